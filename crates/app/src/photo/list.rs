//! The photos of a job, in the order they came in.

use job::Film;
use report::{Align, Cell, Figure, Finding, Report, Table, Weight};

use super::{COMMAND, TITLE, store};
use crate::folder::Folder;

/// Lists the photos the record speaks of: what each shows, whether others may see it, and
/// whether its bytes are here. Rows `entry`, `file`, `of`, `hole`, `of_entry`, `place`,
/// `caption`, `show`, `looked`, `here`.
#[must_use]
pub fn list(folder: &Folder) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("photo", "photo", Align::Left),
        ("file", "", Align::Left),
        ("shows", "what it shows", Align::Left),
        ("of", "", Align::Left),
        ("hole", "", Align::Left),
        ("of_entry", "", Align::Right),
        ("place", "", Align::Left),
        ("caption", "", Align::Left),
        ("film", "", Align::Left),
        ("show", "", Align::Left),
        ("looked", "", Align::Left),
        ("here", "", Align::Left),
        ("others", "others", Align::Left),
    ]);
    let mut missing = 0;
    let mut wordless = 0;
    for photo in &folder.state.photos {
        let here = photo
            .file
            .as_ref()
            .is_some_and(|file| store::find(folder.path(), file).is_some());
        missing += usize::from(photo.file.is_some() && !here);
        wordless += usize::from(photo.is_wordless());
        let number = |id: job::EntryId| usize::try_from(id.0).ok();
        table.push(vec![
            Cell::from(number(photo.entry)),
            Cell::from(named(photo)),
            Cell::from(photo.file.as_ref().map(ToString::to_string)),
            Cell::from(shows(photo)),
            Cell::from(photo.of.clone()),
            Cell::from(photo.hole.clone()),
            Cell::from(photo.of_entry.and_then(number)),
            Cell::from(photo.place.clone()),
            Cell::from(photo.note.clone()),
            Cell::from(folder.state.films.get(&photo.entry).map(Film::shown)),
            Cell::Flag(photo.show),
            Cell::from(photo.looked.clone()),
            Cell::Flag(here),
            Cell::from(if photo.show { "may see it" } else { "-" }),
        ]);
    }
    let count = folder.state.photos.len();
    report.figures = vec![
        Figure::count("photos", "photos", count),
        Figure::count("missing", "whose file is missing", missing),
        Figure::count("wordless", "without words yet", wordless),
    ];
    report.headline = Some(match count {
        0 => "No photo yet.".to_owned(),
        1 => "One photo.".to_owned(),
        many => format!("{many} photos."),
    });
    report.rows = table;
    report.findings.extend(hints(count, missing, wordless));
    report
}

fn hints(count: usize, missing: usize, wordless: usize) -> Vec<Finding> {
    let mut hints = Vec::new();
    if count == 0 {
        let says = "a picture of every joint and every connector costs a minute and saves an hour";
        hints.push(
            Finding::new("photo", "", says)
                .next("matchmark photo FILE of THING")
                .weight(Weight::Note),
        );
    }
    if missing > 0 {
        let says = "the record speaks of photos whose files are not here";
        hints.push(Finding::new("photo-missing", "", says).next("matchmark check names them"));
    }
    if wordless > 0 {
        let says = "some photos have no words yet";
        hints.push(
            Finding::new("photo-wordless", "", says)
                .next("matchmark log \"caption ENTRY of THING: what it shows\"")
                .weight(Weight::Note),
        );
    }
    hints
}

/// What a person calls it: the camera's number, else the first letters of its file.
fn named(photo: &job::Photo) -> Option<String> {
    let file = || photo.file.as_ref().map(|file| file.short().to_owned());
    photo.photo.clone().or_else(file)
}

/// What it shows in one phrase: `runners hole F, bag 14: the long bolt`.
fn shows(photo: &job::Photo) -> Option<String> {
    let hole = photo.hole.as_ref().map(|hole| format!("hole {hole}"));
    let entry = photo.of_entry.map(|id| format!("entry {id}"));
    let thing: Vec<String> = photo.of.iter().cloned().chain(hole).chain(entry).collect();
    let thing = (!thing.is_empty()).then(|| thing.join(" "));
    let about: Vec<String> = thing.into_iter().chain(photo.place.clone()).collect();
    let about = (!about.is_empty()).then(|| about.join(", "));
    match (about, &photo.note) {
        (Some(about), Some(note)) => Some(format!("{about}: {note}")),
        (about, note) => about.or_else(|| note.clone()),
    }
}
