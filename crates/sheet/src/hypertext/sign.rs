//! The sign of a verdict: a dot between two limits, beyond them, on one of them, or no dot.
//!
//! A gate is drawn as what it is: two posts with nothing between them, or barred.

use maud::{Markup, html};
use report::Verdict;

/// Draws the sign. The word always stands beside it, so a screen reader passes it by.
#[must_use]
pub fn sign(verdict: Verdict) -> Markup {
    let dashes = matches!(verdict, Verdict::NotMeasured).then_some("3 3");
    html! {
        svg.sign aria-hidden="true" focusable="false" viewBox="0 0 44 24" width="44" height="24" {
            g stroke="currentColor" stroke-width="3" stroke-dasharray=[dashes] {
                path d="M8 2v20M28 2v20" fill="none" {}
            }
            @match verdict {
                Verdict::Within => { circle cx="18" cy="12" r="5" fill="currentColor" {} }
                Verdict::Outside => { circle.paint cx="38" cy="12" r="5" {} }
                Verdict::Undecided => {
                    path d="M17 12h22" stroke="currentColor" stroke-width="2" {}
                    circle.hollow cx="28" cy="12" r="5" stroke="currentColor" stroke-width="2.5" {}
                }
                Verdict::Closed => { path.bar d="M4 18 32 6" stroke-width="4" fill="none" {} }
                Verdict::NotMeasured | Verdict::Open => {}
            }
        }
    }
}
