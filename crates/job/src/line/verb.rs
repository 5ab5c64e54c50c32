//! The verbs: their spellings, their form, examples, and who reads what follows.

use super::fault::LineFault;
use super::words::{Walk, Word, Words};
use super::{apart, film, goods, mark, place, shot, words_only};
use crate::act::Act;

/// One verb of the grammar, as the manual and the fault texts show it.
#[derive(Clone, Copy, Debug)]
pub struct Verb {
    /// The verb.
    pub word: &'static str,
    /// Other words that are taken for it.
    pub also: &'static [&'static str],
    /// What it is for, one line.
    pub says: &'static str,
    /// Its form; capitals stand for what is to be filled in, brackets for what may be left out.
    pub form: &'static str,
    /// Lines that are understood.
    pub examples: &'static [&'static str],
    reader: Reader,
}

type Reader = fn(&Sentence<'_, '_>) -> Result<Act, LineFault>;

/// A line whose verb is known.
pub(super) struct Sentence<'a, 'w> {
    pub words: &'w Words<'a>,
    /// The first clause without its verb.
    pub first: &'w [Word<'a>],
    /// The byte behind the verb.
    pub after_verb: usize,
    /// Whether the line began `new`.
    pub new: bool,
}

impl<'a, 'w> Sentence<'a, 'w> {
    pub fn walk(&self) -> Walk<'a, 'w> {
        Walk::over(self.first, self.after_verb)
    }

    /// All the text behind the verb.
    pub fn text(&self) -> &'a str {
        self.words.rest(self.after_verb)
    }

    /// The text behind the colon, if there is one and something stands there.
    pub fn after_colon(&self) -> Option<&'a str> {
        let text = self.words.rest(self.words.colon?);
        (!text.is_empty()).then_some(text)
    }

    pub fn fault(&self, at: usize, expected: impl Into<String>) -> LineFault {
        LineFault::at(self.words.line, at, expected)
    }
}

const fn verb(
    word: &'static str,
    also: &'static [&'static str],
    says: &'static str,
    form: &'static str,
    examples: &'static [&'static str],
    reader: Reader,
) -> Verb {
    Verb {
        word,
        also,
        says,
        form,
        examples,
        reader,
    }
}

/// Every verb, in the order of the manual page.
#[rustfmt::skip]
pub const VERBS: &[Verb] = &[
    verb("off", &["took off", "taken off", "take off", "remove", "removed", "undone joint",
        "unplug", "unplugged", "disconnect", "disconnected", "unbolt", "unbolted"],
        "a part, a joint, a hose or one of its ends came off",
        "off NAME [from PART]: [COUNT WHAT [SIZE] [holes A..C]], …, [bag 14], [photo 12], [note …]",
        &["off runners: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65, bag 14",
          "off alternator from bracket: 2 bolts M10x1.25x80 (top one is longer by a washer), tray 2",
          "off hose bypass: from head.outlet, to radiator.top, bore 10 mm, medium coolant, clamp spring",
          "off bottle-bleed.to",
          "new off spacer: 2 bolts M6x30"], apart::off),
    verb("on", &["put back", "back on", "fit", "fitted", "refit", "refitted", "put on",
        "plug in", "plugged in", "connect", "connected", "reconnect", "reconnected"],
        "a part went back, a joint was closed, a hose or end put on",
        "on NAME: [COUNT [new] WHAT [SIZE] [hole C]], …, [COUNT new SEAL]",
        &["on runners: 2 nuts 13 mm, 3 bolts M8x40, 1 bolt M8x65 hole F, 3 new runner gaskets",
          "on bottle-bleed", "put back alternator"], apart::on),
    verb("loose", &["loosened", "slackened", "loosen"],
        "loosened, not off", "loose NAME [holes A..C]",
        &["loose alternator hole A", "loose runners"], apart::loose),
    verb("aside", &["moved aside", "move aside"],
        "moved aside, still connected", "aside NAME [and NAME] [: what is still on]",
        &["aside power-steering-pump: hoses still on, hung from the wing"], apart::aside),
    verb("lift", &["lifted", "lifted together", "lifted out"],
        "several parts lifted away as one", "lift NAME, NAME, … [: bag, shelf]",
        &["lift plenum, runners, fuel-rail: shelf 3"], apart::lift),
    verb("tight", &["tightened", "torqued", "tighten"],
        "one bolt, some bolts or a whole stage tightened",
        "tight NAME [hole C | holes A..C | all] [stage N] [FIGURE] [wrench NAME] [dry | oiled]",
        &["tight runners hole C stage 1 12 Nm wrench small", "tight runners stage 2 21 N·m",
          "tight bulkhead-head all stage 3 90° wrench big oiled"], apart::tight),
    verb("read", &["measured", "measure", "reading"],
        "numbers found, with their unit and conditions",
        "read WHAT VALUES UNIT [gauge NAME], [CONDITION], …   or   read WHAT: VALUES UNIT",
        &["read cranking dry 205 210 208 210 212 210 psi",
          "read head-flat: 0.04 0.05 - 0.03 mm, gauge straight-edge, cold",
          "read lash inlet 3: <0.04 mm", "read oil colour: dark, no water"], words_only::read),
    verb("drain", &["drained"],
        "what ran out of a circuit", "drain CIRCUIT [AMOUNT] [: note]",
        &["drain coolant 5.1 L: rusty", "drain oil"], words_only::drain),
    verb("fill", &["filled", "topped up"],
        "what went into a circuit", "fill CIRCUIT [AMOUNT] [: note]",
        &["fill coolant 4 L: concentrate", "fill oil"], words_only::fill),
    verb("clean", &["cleaned"],
        "a face, hole or part cleaned", "clean NAME [: how]",
        &["clean bulkhead-head: scraper and solvent, no abrasive"], apart::clean),
    verb("trial", &["trial-fitted", "trial fit", "trial fitted", "tried"],
        "fitted on trial; does not count as put back", "trial NAME [: how it went]",
        &["trial follower-3: falls in under its own weight"], apart::trial),
    verb("found", &["find"],
        "something lost that turned up, or something that should not be there",
        "found COUNT WHAT [SIZE] [in PLACE]",
        &["found 1 bolt M6x16 in the valley"], goods::found),
    verb("lost", &["dropped", "missing"],
        "dropped, gone, not found", "lost COUNT WHAT [SIZE] [in PLACE]",
        &["lost 1 bolt M6x16", "dropped 1 nut 10 mm in timing chest"], goods::lost),
    verb("replaced", &["replace", "exchanged", "renewed"],
        "a part, fasteners or seals exchanged for others",
        "replaced NAME [with …]   or   replaced COUNT WHAT [in NAME]",
        &["replaced thermostat with new one", "replaced 2 bolts M8x40 in runners"], goods::replaced),
    verb("ordered", &["order"],
        "ordered", "ordered [COUNT] WHAT [, from WHOM] [, price AMOUNT] [, due WHEN]",
        &["ordered 2 head gaskets, from parts counter, price 84 EUR, due friday"], goods::ordered),
    verb("arrived", &["came", "received"],
        "an order came", "arrived [COUNT] WHAT [: note]",
        &["arrived 2 head gaskets: one box dented"], goods::arrived),
    verb("compare", &["compared"],
        "a new part laid beside the old one before it goes on",
        "compare NAME: same   or   compare NAME: differs, WHAT IS SEEN",
        &["compare thermostat: same, jiggle pin at the top on both",
          "compare water-pump: differs, shaft 3 mm longer"], goods::compare),
    verb("broke", &["broken", "snapped", "sheared"],
        "a bolt or stud broke off in its hole",
        "broke NAME hole C [: what is left in there]",
        &["broke runners hole C: flush, rusted in"], apart::broke),
    verb("cleared", &["drawn", "extracted"],
        "the stump is out and the hole good again",
        "cleared NAME hole C [: how]",
        &["cleared runners hole C: nut welded on, thread chased"], apart::cleared),
    verb("sent", &["sent out", "send"],
        "a part given out for work", "sent NAME to WHOM [for WORK] [, due WHEN]",
        &["sent bulkhead-head to machine shop for crack test, due 12 March"], goods::sent),
    verb("back", &["returned", "came back"],
        "a part back from work outside", "back NAME [: what was done]",
        &["back bulkhead-head: no crack, 0.1 mm taken off"], goods::back),
    verb("paid", &["pay"],
        "money paid", "paid AMOUNT [to WHOM] [for WHAT]",
        &["paid 140 EUR to machine shop for crack test"], goods::paid),
    verb("in", &["put in", "stuffed"],
        "put in for the time being: rags, plugs, locking pins", "in PLACE: COUNT WHAT, …",
        &["in bulkhead inlet ports: 3 rags", "in timing-case: 1 wedge"], goods::put_in),
    verb("out", &["taken out", "took out", "take out"],
        "taken out again", "out PLACE [: COUNT WHAT, …]",
        &["out bulkhead inlet ports: 3 rags", "out timing-case"], goods::taken_out),
    verb("stow", &["laid", "moved", "keep", "lies"],
        "laid somewhere else", "stow NAME: PLACE",
        &["stow runners: shelf 2"], apart::stow),
    verb("photo", &["photographed", "picture", "pic"],
        "a photo, with a bag number or a name; words may come later",
        "photo [NUMBER] [of NAME [hole C] | of reading 14] [bag 14] [file HASH] [show] [: caption]",
        &["photo 112 bag 14", "photo of runners: before anything was touched",
          "photo of runners hole F: thread pulled", "photo 113 of reading 14, show: the gauge at rest"], shot::photo),
    verb("caption", &["captioned"],
        "what the photo of an earlier entry shows, said later",
        "caption ENTRY [of NAME [hole C]] [bag 14] [: words]",
        &["caption 31: the long bolt goes through the lifting eye", "caption 31 of runners hole F"], shot::caption),
    verb("show", &["shown"],
        "others may see the photo of an entry; behind the colon, what was looked for in it",
        "show ENTRY … [: no plate, no face]",
        &["show 31", "show 31, 34: no plate, no face"], shot::show),
    verb("hide", &["hidden"],
        "the photo of an entry stays in the house", "hide ENTRY …",
        &["hide 31"], shot::hide),
    verb("mark", &["marked"],
        "places pointed out on the photo of an earlier entry, in percent from the left edge and from the top",
        "mark ENTRY: arrow X Y [words], circle X Y [wide W] [words], number X Y [words], …",
        &["mark 31: arrow 62 40 the long bolt", "mark 31: circle 20 55 wide 8 dowel, number 70 30 second plug, under the loom"], mark::mark),
    verb("film", &["filmed"],
        "where an earlier entry is seen on a film, said later",
        "film ENTRY: [tape NAME] [HH:MM:SS]",
        &["film 14: 00:12:31", "film 14: tape 2 00:03:05"], film::film),
    verb("place", &["placed", "positions"],
        "where the holes of a joint or the ports of a part sit: to the right and up, from one corner",
        "place NAME: HOLE X Y, HOLE X Y, … UNIT",
        &["place bulkhead-head: A 0 0, B 92.5 0, C 46 31 mm"], place::place),
    verb("note", &["noted", "remark"],
        "words to keep", "note [NAME:] …",
        &["note runners: hole F helicoil, torque by feel last time", "note heater hose feels soft"], words_only::note),
    verb("tag", &["tagged", "label"],
        "a pair number on an end and on its port", "tag NUMBER END [PORT]",
        &["tag 12: bottle-bleed.to thermostat-housing.bleed", "tag A3 injector-lead-2"], words_only::tag),
    verb("check", &["checked", "looked at"],
        "a check done", "check CHECK [: what was seen]",
        &["check followers-free: all turn by hand"], words_only::check),
    verb("rename", &["renamed"],
        "called something else from now on", "rename OLD to NEW",
        &["rename thing-by-the-pump to heater-pipe"], words_only::rename),
    verb("same", &["same as"],
        "two names for one thing", "same NAME as NAME",
        &["same gas-cable as throttle-cable"], words_only::same),
    verb("correct", &["corrected", "correction"],
        "an earlier entry said it wrong", "correct ENTRY: LINE",
        &["correct 14: off runners: 2 nuts 13 mm, 4 bolts M8x40, bag 14"], words_only::correct),
    verb("undo", &["undid", "take back"],
        "an earlier entry taken back; without a number your last one", "undo [ENTRY]",
        &["undo", "undo 14"], words_only::undo),
    verb("gate", &["override"],
        "a closed gate passed all the same, with the reason", "gate NAME passed: REASON",
        &["gate fire passed: drain plug washer reused, watched for leaks"], words_only::gate),
    verb("choose", &["chosen", "variant"],
        "a variant of the book chosen", "choose VARIANT VALUE",
        &["choose throttle cable"], words_only::choose),
    verb("cause", &["caused by"],
        "the cause of a fault, found", "cause FAULT: CAUSE",
        &["cause overheating: water pump impeller loose on its shaft"], words_only::cause),
];

/// Reads a line that is cut into words.
pub(super) fn act(line: &str, words: &Words<'_>) -> Result<Act, LineFault> {
    let clause = match words.head.first() {
        Some(clause) if words.colon.is_none_or(|colon| clause[0].start < colon) => clause,
        Some(_) | None => {
            let at = line
                .find(|letter: char| !letter.is_whitespace())
                .unwrap_or(0);
            return Err(no_verb(line, at, ""));
        }
    };
    let new = clause[0].is(&["new"]) && clause.len() > 1;
    let spoken = &clause[usize::from(new)..];
    let Some((verb, used)) = find(spoken) else {
        return Err(no_verb(line, spoken[0].start, spoken[0].text));
    };
    let sentence = Sentence {
        words,
        first: &spoken[used..],
        after_verb: spoken[used - 1].end(),
        new,
    };
    (verb.reader)(&sentence).map_err(|fault| {
        let mut fault = fault.examples(verb.examples);
        let said = understood(words, &sentence, verb, fault.stopped_at);
        fault.understood.splice(0..0, said);
        fault
    })
}

/// The verb, and the subject if reading got past it.
fn understood(
    words: &Words<'_>,
    sentence: &Sentence<'_, '_>,
    verb: &Verb,
    stopped_at: usize,
) -> Vec<String> {
    let mut said = vec![verb.word.to_owned()];
    let read: Vec<Word<'_>> = sentence
        .first
        .iter()
        .copied()
        .filter(|word| word.end() <= stopped_at)
        .collect();
    if !read.is_empty() {
        said.push(words.text(&read).to_owned());
    }
    said
}

/// The verb a clause begins with, longest spelling first, and how many words it takes.
fn find(clause: &[Word<'_>]) -> Option<(&'static Verb, usize)> {
    let spelled = |spelling: &str| -> Option<usize> {
        let mut used = 0;
        for wanted in spelling.split(' ') {
            clause.get(used).filter(|word| word.is(&[wanted]))?;
            used += 1;
        }
        Some(used)
    };
    VERBS
        .iter()
        .filter_map(|verb| {
            let spellings = std::iter::once(&verb.word).chain(verb.also);
            let longest = spellings.filter_map(|one| spelled(one)).max()?;
            Some((verb, longest))
        })
        .max_by_key(|(_, used)| *used)
}

fn no_verb(line: &str, at: usize, typed: &str) -> LineFault {
    let typed = typed.to_lowercase();
    let near = VERBS.iter().filter(|verb| {
        std::iter::once(&verb.word)
            .chain(verb.also)
            .any(|word| !typed.is_empty() && near(word, &typed))
    });
    let near: Vec<&Verb> = near.collect();
    let examples: Vec<&'static str> = if near.is_empty() {
        let usual = ["off", "on", "tight", "read", "lost", "in", "note"];
        let usual = VERBS.iter().filter(|verb| usual.contains(&verb.word));
        usual
            .filter_map(|verb| verb.examples.first().copied())
            .collect()
    } else {
        near.iter()
            .filter_map(|verb| verb.examples.first().copied())
            .collect()
    };
    let words: Vec<&str> = VERBS.iter().map(|verb| verb.word).collect();
    let expected = match near.first() {
        Some(verb) => format!("a verb; `{}` is near", verb.word),
        None => format!("a verb first: {}", words.join(", ")),
    };
    LineFault::at(line, at, expected).examples(&examples)
}

/// Whether one slip of the finger apart: a letter more, less, changed, or two exchanged.
fn near(one: &str, other: &str) -> bool {
    let (one, other): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    let same = one.iter().zip(&other).take_while(|(a, b)| a == b).count();
    let (a, b) = (&one[same..], &other[same..]);
    let skip = |letters: &[char], by: usize| letters.get(by..).map(<[char]>::to_vec);
    one.len() > 2
        && (skip(a, 1) == skip(b, 1)
            || skip(a, 1).as_deref() == Some(b)
            || Some(a) == skip(b, 1).as_deref()
            || a.len() > 1 && b.len() > 1 && a[0] == b[1] && a[1] == b[0] && a[2..] == b[2..])
}
