//! The typeface of pages, papers and drawings. Its licence stands beside it in `font/`.
//!
//! Only the bytes: who needs another container makes it from these.

/// One face of the family.
#[derive(Clone, Copy, Debug)]
pub struct Face {
    /// The name of the family, as a style sheet asks for it.
    pub family: &'static str,
    /// Weight by the CSS scale: 400 or 700.
    pub weight: u16,
    /// The file name, for a link.
    pub file: &'static str,
    /// An OpenType file.
    pub bytes: &'static [u8],
}

/// Words: regular and bold; figures: regular and bold.
pub const FACES: [Face; 4] = [
    Face {
        family: "B612",
        weight: 400,
        file: "B612-Regular.otf",
        bytes: include_bytes!("../font/B612-Regular.otf"),
    },
    Face {
        family: "B612",
        weight: 700,
        file: "B612-Bold.otf",
        bytes: include_bytes!("../font/B612-Bold.otf"),
    },
    Face {
        family: "B612 Mono",
        weight: 400,
        file: "B612Mono-Regular.otf",
        bytes: include_bytes!("../font/B612Mono-Regular.otf"),
    },
    Face {
        family: "B612 Mono",
        weight: 700,
        file: "B612Mono-Bold.otf",
        bytes: include_bytes!("../font/B612Mono-Bold.otf"),
    },
];
