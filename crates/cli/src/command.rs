//! Every command, one file each; this file only lists them.

mod account;
mod begin;
mod captions;
mod manual;
mod check;
mod copy;
mod demo;
mod serve;
mod howto;
mod ledger;
mod photo;
mod record;

mod reach;
mod sequence;
mod calendar;
mod day;
mod hand;
mod turn;
mod comeback;

mod mixups;
mod ends;
mod whereis;

mod convert;
mod cranking;
mod leads;
mod cooling;
mod proof;
mod next_test;
mod oil_pressure;
mod trims;
mod vacuum;
mod options;
mod leakdown;
mod coolant;
mod hydraulic_lock;
mod prime;
mod start;
mod flatness;
mod lash;
mod spring;
mod ratio;
mod cut;
mod bore;
mod clearance;
mod finish;
mod table;
mod shop_sheet;
mod torque;
mod preload;
mod stretch;
mod hole;
mod broken;
mod tighten;
mod print;

use clap::Subcommand;
use report::Report;

use crate::context::Context;

/// What can be asked.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Lay an invented job in a folder, live through it and tell the story.
    Demo(demo::Demo),
    /// Open the job to a phone or tablet at the vehicle.
    Serve(serve::Serve),
    /// Begin a job in a folder.
    New(begin::New),
    /// List every fault of a build book or a shop file, or look over the whole job.
    Check(check::Check),
    /// Put what happened into the record, one line an entry.
    Log(record::Log),
    /// Take back an entry: the last one of yours, or the one named.
    Undo(record::Undo),
    /// Read the record, line by line.
    Record(record::Record),
    /// Keep photos with the job, or list them.
    Photo(photo::Photo),
    /// Read the captions of a film as lines for the record, each with its place on the film.
    Captions(captions::Captions),
    /// List what is off, missing, left over, lost, put in or not renewed.
    Outstanding(ledger::Outstanding),
    /// Say whether a gate is open, and why not.
    Gate(ledger::Gate),
    /// Print the state as a build book the next person can start from.
    WriteBack(ledger::WriteBack),
    /// Report the whole job: before and after, verdicts, costs, hours, photos.
    Account(account::Account),
    /// Write this job up for the next person, layer by layer, names and places left out.
    HowTo(howto::HowTo),
    /// Put the whole job into one file: book, workshop, record, photos.
    Copy(copy::Copy),
    /// Say what must come off to get at a thing, the cheapest way, and the time it takes.
    Reach(reach::Reach),
    /// List what else lies open meanwhile, and what coming back later would cost.
    WhileOpen(reach::WhileOpen),
    /// Plan the order of work, off and back, with the reason of every wait.
    Sequence(sequence::Sequence),
    /// Lay the work over the hours of the shop: the finish, what sets it, what to buy by when.
    Calendar(calendar::Calendar),
    /// Close the day or take the work up again: what stands open, what comes first.
    Day(day::Day),
    /// Show the act in hand and the next ones, with tool, figure and reason.
    Hand(hand::Hand),
    /// Say which of crank and cams may be turned now, and why not.
    Turn(turn::Turn),
    /// List what a part is about to cover and nobody confirmed.
    LastChance(comeback::LastChance),
    /// Rank everything that can be forgotten by what coming back would cost.
    Comeback(comeback::Comeback),
    /// List what could go back in the wrong place, worst first.
    Mixups(mixups::Mixups),
    /// List every end with its port, medium, bore and tag; or where loose ones could belong.
    Ends(ends::Ends),
    /// Give out tags in pairs and bags before anything comes off.
    Tags(ends::Tags),
    /// Say in one line where a thing is, since when and by whom.
    Where(whereis::Where),
    /// List loose fasteners and empty holes, and which could belong together.
    Loose(whereis::Loose),
    /// Turn a map of fasteners end for end for the other bank.
    Turned(whereis::Turned),
    /// Read a figure with its unit and write it in another.
    Convert(convert::Convert),
    /// Judge cranking compression over the layout, dry and wet.
    Cranking(cranking::Cranking),
    /// Check ignition leads on a distributor before the first cranking.
    Leads(leads::Leads),
    /// Judge whether the cooling system holds pressure.
    CoolingPressure(cooling::CoolingPressure),
    /// Judge a test for combustion gas in the coolant by its conditions.
    GasTest(cooling::GasTest),
    /// Compare cranking readings before and after some work.
    Proof(proof::Proof),
    /// Name the test that parts the explanations that remain.
    NextTest(next_test::NextTest),
    /// Judge oil pressure; the figure at warm idle decides.
    OilPressure(oil_pressure::OilPressure),
    /// Compare fuel trims bank to bank.
    Trims(trims::Trims),
    /// Read a vacuum gauge at warm idle.
    Vacuum(vacuum::Vacuum),
    /// Compare ways out; each must cure every known fault.
    Options(options::Options),
    /// Judge leak-down losses by a named rule and the place of the hiss.
    Leakdown(leakdown::Leakdown),
    /// What to pour over what stayed inside.
    Coolant(coolant::Coolant),
    /// Whether liquid in a cylinder locks the engine, and where it stops.
    HydraulicLock(hydraulic_lock::HydraulicLock),
    /// How long oil or fuel takes to fill its way before the first start.
    Prime(prime::Prime),
    /// Print the sheet for the first start: the first minutes, and when to stop at once.
    Start(start::Start),
    /// Judge how flat a face is from a table of heights.
    Flatness(flatness::Flatness),
    /// Judge valve clearances and choose shims.
    Lash(lash::Lash),
    /// Work out load and height of a valve spring after its seat was cut, and its shim.
    Spring(spring::Spring),
    /// Work out the compression ratio, and what a cut makes of it.
    Ratio(ratio::Ratio),
    /// Work out what a cut does to timing, valves, manifold and chambers.
    Cut(cut::Cut),
    /// Judge a bore or journal from a table of diameters.
    Bore(bore::Bore),
    /// Judge one clearance of a named kind.
    Clearance(clearance::Clearance),
    /// Judge the roughness of a gasket face.
    Finish(finish::Finish),
    /// Check numbers copied from elsewhere against each other.
    Table(table::Table),
    /// Write what to ask the machine shop for, and compare what comes back.
    ShopSheet(shop_sheet::ShopSheet),
    /// Show a tightening spec in the wrench's unit and what to set.
    Torque(torque::Torque),
    /// Work out preload from torque, or torque from preload, with its range.
    Preload(preload::Preload),
    /// Judge the length of bolts: free, grown for good, or stretched as they sit.
    Stretch(stretch::Stretch),
    /// Tell whether a bolt bottoms in its hole and how much thread meets.
    Hole(hole::Hole),
    /// Tell how to get a broken bolt or stud out, the way that spoils least first.
    Broken(broken::Broken),
    /// Show the tightening sheet of a joint: what to set, in which turn, what comes next.
    Tighten(tighten::Tighten),
    /// Print papers: job sheet, tags, tightening sheets, bolt cards and more, as PDF.
    Print(print::Print),
    /// Print the completions for a shell.
    #[command(hide = true)]
    Completions(manual::Completions),
    /// Write the manual pages into a folder.
    #[command(hide = true)]
    Man(manual::Man),
}

impl Command {
    /// Asks the use case behind the command.
    pub fn ask(&self, context: &Context) -> Report {
        match self {
            Self::Demo(asked) => asked.ask(context),
            Self::Serve(asked) => asked.ask(context),
            Self::New(asked) => asked.ask(),
            Self::Check(asked) => asked.ask(context),
            Self::Log(asked) => asked.ask(context),
            Self::Undo(asked) => asked.ask(context),
            Self::Record(asked) => asked.ask(context),
            Self::Photo(asked) => asked.ask(context),
            Self::Captions(asked) => asked.ask(context),
            Self::Outstanding(asked) => asked.ask(context),
            Self::Gate(asked) => asked.ask(context),
            Self::WriteBack(asked) => asked.ask(context),
            Self::Account(asked) => asked.ask(context),
            Self::HowTo(asked) => asked.ask(context),
            Self::Copy(asked) => asked.ask(context),
            Self::Reach(asked) => asked.ask(context),
            Self::WhileOpen(asked) => asked.ask(context),
            Self::Sequence(asked) => asked.ask(context),
            Self::Calendar(asked) => asked.ask(context),
            Self::Day(asked) => asked.ask(context),
            Self::Hand(asked) => asked.ask(context),
            Self::Turn(asked) => asked.ask(context),
            Self::LastChance(asked) => asked.ask(context),
            Self::Comeback(asked) => asked.ask(context),
            Self::Mixups(asked) => asked.ask(context),
            Self::Ends(asked) => asked.ask(context),
            Self::Tags(asked) => asked.ask(context),
            Self::Where(asked) => asked.ask(context),
            Self::Loose(asked) => asked.ask(context),
            Self::Turned(asked) => asked.ask(),
            Self::Convert(asked) => asked.ask(),
            Self::Cranking(asked) => asked.ask(context),
            Self::Leads(asked) => asked.ask(context),
            Self::CoolingPressure(asked) => asked.ask(),
            Self::GasTest(asked) => asked.ask(),
            Self::Proof(asked) => asked.ask(context),
            Self::NextTest(asked) => asked.ask(context),
            Self::OilPressure(asked) => asked.ask(),
            Self::Trims(asked) => asked.ask(),
            Self::Vacuum(asked) => asked.ask(),
            Self::Options(asked) => asked.ask(),
            Self::Leakdown(asked) => asked.ask(context),
            Self::Coolant(asked) => asked.ask(context),
            Self::HydraulicLock(asked) => asked.ask(context),
            Self::Prime(asked) => asked.ask(),
            Self::Start(asked) => asked.ask(context),
            Self::Flatness(asked) => asked.ask(),
            Self::Lash(asked) => asked.ask(),
            Self::Spring(asked) => asked.ask(),
            Self::Ratio(asked) => asked.ask(),
            Self::Cut(asked) => asked.ask(),
            Self::Bore(asked) => asked.ask(),
            Self::Clearance(asked) => asked.ask(),
            Self::Finish(asked) => asked.ask(),
            Self::Table(asked) => asked.ask(),
            Self::ShopSheet(asked) => asked.ask(context),
            Self::Torque(asked) => asked.ask(context),
            Self::Preload(asked) => asked.ask(),
            Self::Stretch(asked) => asked.ask(),
            Self::Hole(asked) => asked.ask(context),
            Self::Broken(asked) => asked.ask(),
            Self::Tighten(asked) => asked.ask(context),
            Self::Print(asked) => asked.ask(context),
            Self::Completions(asked) => asked.ask(),
            Self::Man(asked) => asked.ask(),
        }
    }
}
