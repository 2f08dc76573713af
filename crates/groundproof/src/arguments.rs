//! What can be said on the command line. No behaviour here.

mod wishes;

use std::net::IpAddr;
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::size::{Area, Four, Length, Patch, Temperature, Volume};
pub(crate) use wishes::{Enlarge, Wish};

/// A workbench for painters who make their own painting grounds.
#[derive(Debug, Parser)]
#[command(version, about, subcommand_required = false)]
pub(crate) struct Arguments {
    /// Without a command the workbench opens in the browser.
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Open the workbench in the browser.
    Open(Open),
    /// A recipe as a film: shares, air, thickness, the word from lean to rich.
    Film(Film),
    /// Why did a board fail?
    Why(Why),
    /// From milk and powder to a recipe for so many boards.
    Milk(Milk),
    /// Where milk and acid lead: sourness, curd, whey, acid left.
    Curdle(Curdle),
    /// Casein and what opens it: how much, and the sourness it comes to.
    Dissolve(Dissolve),
    /// None of that at hand: what instead, and how much?
    Swap(Swap),
    /// Glue or gelatine in water: how strong, what brings it to a strength, the warm pot.
    Glue(Glue),
    /// Two recipes beside each other.
    Beside(Beside),
    /// How cracked is this board? From its photo.
    Look(Look),
    /// Now the real panels: batches, amounts, what to buy, what to cut.
    Enlarge(Enlarge),
    /// What I wish for: the pot that comes to it, from what is at hand.
    Wish(Wish),
    /// What do the boards of a trial say?
    Answer(Answer),
    /// What is in the jars: figures, sources, cautions.
    Jars(Jars),
    /// The handbook recipes and their places on the rule.
    Books(Books),
    /// The notebook on disk: copy it, put a copy back, look whether it is sound.
    #[command(subcommand)]
    Studio(StudioCommand),
    /// A trial of the studio as paper, cards, sheets and data.
    Paper(Paper),
    /// A trial of boards: who comes when, and what could be tangled.
    Plan(Plan),
    /// The JSON schema of a report.
    Schema {
        /// Which report.
        name: Report,
    },
}

impl Default for Command {
    fn default() -> Self {
        Self::Open(Open { port: DEFAULT_PORT, studio: None, no_browser: false, example: false, share: None, share_as: None })
    }
}

/// Port tried first; a free one is taken if it is in use.
pub(crate) const DEFAULT_PORT: u16 = 4317;

/// What stands for an address that is not given.
const HOUSE: &str = "house";

/// Where phones are listened for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum At {
    /// This computer's own address in the house, to be found.
    House,
    /// This one.
    Address(IpAddr),
}

#[derive(Debug, Clone, Args)]
pub(crate) struct Open {
    /// Port on this computer; 0 takes any free one.
    #[arg(long, default_value_t = DEFAULT_PORT)]
    pub(crate) port: u16,
    /// Folder of the studio; without it the usual one of this computer.
    #[arg(long, value_name = "DIR")]
    pub(crate) studio: Option<PathBuf>,
    /// Print the address and do not open a browser.
    #[arg(long)]
    pub(crate) no_browser: bool,
    /// Begin in the example studio: invented boards to look round in, gone when it is left.
    #[arg(long)]
    pub(crate) example: bool,
    /// Share with phones at this computer's address in the house, or at the one given, on the port after the other one; anyone who can
    /// listen on that network can read it.
    #[arg(long, value_name = "ADDRESS", num_args = 0..=1, default_missing_value = HOUSE, value_parser = at)]
    pub(crate) share: Option<At>,
    /// Name of this computer in the house, such as `studio.local`, to be shared beside its address.
    #[arg(long, value_name = "NAME", requires = "share")]
    pub(crate) share_as: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Film {
    /// File with recipe text, one ingredient a line; standard input if none.
    pub(crate) recipe: Option<PathBuf>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
    /// Read the text as the page does, words and all, instead of refusing a bad line.
    #[arg(long)]
    pub(crate) as_told: bool,
    /// Answer a question: `unit:cup=us`. May be given several times.
    #[arg(long, value_name = "QUESTION=CHOICE", value_parser = pair)]
    pub(crate) choose: Vec<(String, String)>,
    /// Wet thickness of a coat, such as `120um` or `0.12mm`.
    #[arg(long)]
    pub(crate) wet: Option<Length>,
    /// Number of coats.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=40))]
    pub(crate) coats: Option<u32>,
    /// Area to cover, such as `0.6m2`.
    #[arg(long)]
    pub(crate) area: Option<Area>,
    /// What it is laid on: plywood, hardboard, mdf, solid-wood, aluminium, glass or canvas.
    #[arg(long)]
    pub(crate) support: Option<String>,
    /// Print what stands behind one figure, such as `pvc`.
    #[arg(long, value_name = "FIGURE")]
    pub(crate) explain: Option<String>,
    /// Save the card as a picture; the name ends in .png or .svg.
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Why {
    /// File with the recipe as told, if there is one; `-` for standard input.
    pub(crate) recipe: Option<PathBuf>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
    /// What was seen: `when=days later`. May be given several times.
    #[arg(long, value_name = "TAP=ANSWER", value_parser = pair)]
    pub(crate) tap: Vec<(String, String)>,
    /// Dry thickness in all, such as `300um`.
    #[arg(long)]
    pub(crate) dry: Option<Length>,
    /// Number of coats.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=40))]
    pub(crate) coats: Option<u32>,
    /// The board, such as `plywood`.
    #[arg(long)]
    pub(crate) support: Option<String>,
    /// Something else that is known, such as `unsized`. May be given several times.
    #[arg(long)]
    pub(crate) fact: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Milk {
    /// Milk at hand, such as `2 l skim milk`.
    #[arg(long = "milk", allow_hyphen_values = true)]
    pub(crate) at_hand: String,
    /// What curdles it, with an amount to be checked: `1 lemon`.
    #[arg(long, default_value = "white vinegar")]
    pub(crate) acid: String,
    /// White powder.
    #[arg(long, default_value = "chalk")]
    pub(crate) powder: String,
    /// What dissolves the curd.
    #[arg(long, default_value = "baking soda")]
    pub(crate) base: String,
    /// Number of boards.
    #[arg(long, default_value_t = 5)]
    pub(crate) boards: u32,
    /// Size of a board.
    #[arg(long, default_value = "20 x 25 cm")]
    pub(crate) size: String,
    /// Coats on each.
    #[arg(long, default_value_t = 4)]
    pub(crate) coats: u32,
    /// Warmth of the milk, such as `35C`.
    #[arg(long)]
    pub(crate) temp: Option<Temperature>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Curdle {
    /// Milk at hand, such as `1 US gal skim milk`.
    #[arg(long = "milk", allow_hyphen_values = true, default_value = "")]
    pub(crate) at_hand: String,
    /// What curdles it, such as `500 ml white vinegar 5 %`. May be given several times; the first is the one asked about.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) acid: Vec<String>,
    /// Warmth of the milk, such as `20C`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) temp: Option<Temperature>,
    /// How often the curd is rinsed.
    #[arg(long, default_value_t = 0)]
    pub(crate) washes: u32,
    /// Water of one rinse, such as `4l`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) wash_water: Option<Volume>,
    /// The milk was boiled, or is UHT milk.
    #[arg(long)]
    pub(crate) boiled: bool,
    /// How the curd is drained.
    #[arg(long, value_enum, default_value_t = Drained::Cloth)]
    pub(crate) drained: Drained,
    /// Water that goes into the milk beside the acid, such as `200ml`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) water: Option<Volume>,
    /// Print what stands behind one figure, such as `ph`.
    #[arg(long, value_name = "FIGURE")]
    pub(crate) explain: Option<String>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

/// How a curd is drained.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Drained {
    /// Dripped in a cloth.
    Cloth,
    /// Squeezed by hand.
    Squeezed,
    /// Scooped out and not drained.
    Scooped,
}

impl Drained {
    pub(crate) fn words(self) -> String {
        match self {
            Self::Cloth => "cloth",
            Self::Squeezed => "squeezed",
            Self::Scooped => "scooped",
        }
        .to_owned()
    }
}

#[derive(Debug, Args)]
pub(crate) struct Swap {
    /// What is missing, such as `10 g borax`.
    #[arg(allow_hyphen_values = true)]
    pub(crate) missing: String,
}

#[derive(Debug, Args)]
pub(crate) struct Dissolve {
    /// Curd or casein, such as `100 g wet curd`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) casein: Option<String>,
    /// Milk that the curd comes from, such as `1 l skim milk`.
    #[arg(long, allow_hyphen_values = true, conflicts_with = "casein")]
    pub(crate) curd_from: Option<String>,
    /// A spoonful of that curd weighed wet and dry, such as `10g:2.4g`. May be given several times.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) dish: Vec<String>,
    /// How often the curd was rinsed; what acid it keeps eats base. Rinsed clean if not said.
    #[arg(long)]
    pub(crate) washes: Option<u32>,
    /// Water of one rinse, such as `1l`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) wash_water: Option<Volume>,
    /// How the curd of that milk is drained.
    #[arg(long, value_enum, default_value_t = Drained::Cloth)]
    pub(crate) drained: Drained,
    /// What opens it, with or without an amount: `1 tsp baking soda`.
    #[arg(long, default_value = "baking soda", allow_hyphen_values = true)]
    pub(crate) base: String,
    /// Water beside that of the curd, such as `300ml`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) water: Option<Volume>,
    /// Sourness that the pot is to come to, such as `6.8`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) ph: Option<f64>,
    /// Print what stands behind one figure, such as `first_dose`.
    #[arg(long, value_name = "FIGURE")]
    pub(crate) explain: Option<String>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Glue {
    /// Dry glue such as `70 g rabbit skin glue`, or a made size with its strength: `500 ml glue size 7 %`.
    #[arg(long = "glue", allow_hyphen_values = true, default_value = "")]
    pub(crate) at_hand: String,
    /// Water, such as `1 l water`.
    #[arg(long, allow_hyphen_values = true, default_value = "")]
    pub(crate) water: String,
    /// Glue to water, such as `1:10`.
    #[arg(long, allow_hyphen_values = true, default_value = "")]
    pub(crate) ratio: String,
    /// What it is for: `size`, `gesso` (its first coats) or `last coats`.
    #[arg(long = "for", default_value = "")]
    pub(crate) wanted_for: String,
    /// A strength of your own, per cent by weight, such as `7`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) wanted: Option<f64>,
    /// Bloom as the seller prints it, such as `400`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) bloom: Option<f64>,
    /// A line of the warm pot's day: `10:30 1020 g`, `took 120 g`, `added 50 g water`. May be given several times.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) log: Vec<String>,
    /// What the empty pot weighs in g, if it stood on the balance too.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) empty_pot: Option<f64>,
    /// The warmest it became, such as `70C`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) temp: Option<Temperature>,
    /// Hours kept hot; without it the hours of the log.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) hours: Option<f64>,
    /// How often it was melted, the first time counted.
    #[arg(long)]
    pub(crate) melted: Option<u32>,
    /// Print what stands behind one figure, such as `glue_share`.
    #[arg(long, value_name = "FIGURE")]
    pub(crate) explain: Option<String>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Beside {
    /// File with the first recipe as told.
    pub(crate) first: PathBuf,
    /// File with the second recipe as told.
    pub(crate) second: PathBuf,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Answer {
    /// Table of readings, comma-separated, one reading a row; standard input if none or `-`.
    pub(crate) readings: Option<PathBuf>,
    /// Only this measure.
    #[arg(long)]
    pub(crate) measure: Option<String>,
    /// Which way is better.
    #[arg(long)]
    pub(crate) better: Option<Better>,
    /// The question in your own words; it is printed above the answer.
    #[arg(long, default_value = "")]
    pub(crate) question: String,
    /// For stair boards: the thickness at which half of them are expected to give way, such as `200um`.
    #[arg(long)]
    pub(crate) expect: Option<Length>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

/// Which way is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Better {
    /// Less of it.
    Smaller,
    /// More of it.
    Larger,
}

#[derive(Debug, Args)]
pub(crate) struct Jars {
    /// One jar by its short name, such as `talc`; all of them if none.
    pub(crate) name: Option<String>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Books {
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Subcommand)]
pub(crate) enum StudioCommand {
    /// Copy the studio, photos too, into a folder that does not exist yet.
    Backup {
        /// The new folder.
        to: PathBuf,
        /// Folder of the studio; without it the usual one of this computer.
        #[arg(long, value_name = "DIR")]
        studio: Option<PathBuf>,
    },
    /// Put a copy back where no studio is.
    Restore {
        /// The copy.
        from: PathBuf,
        /// Where to; without it the usual folder of this computer.
        #[arg(long, value_name = "DIR")]
        studio: Option<PathBuf>,
    },
    /// Look at every entry and every photo; exit code 1 if any is missing or hurt.
    Check {
        /// Folder of the studio; without it the usual one of this computer.
        #[arg(long, value_name = "DIR")]
        studio: Option<PathBuf>,
        /// Print the report as JSON.
        #[arg(long)]
        json: bool,
    },
}

#[derive(Debug, Args)]
pub(crate) struct Paper {
    /// The trial, by its short name or its question; without it all trials are listed.
    pub(crate) trial: Option<String>,
    /// Folder of the studio; without it the usual one of this computer.
    #[arg(long, value_name = "DIR")]
    pub(crate) studio: Option<PathBuf>,
    /// Take the invented example studio instead.
    #[arg(long, conflicts_with = "studio")]
    pub(crate) example: bool,
    /// Write the paper (PDF); without any file the answer and the list of what is told are printed.
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Write a recipe card for the kitchen wall (PDF).
    #[arg(long, value_name = "FILE")]
    pub(crate) card: Option<PathBuf>,
    /// Write a picture card to post (PNG).
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
    /// Write labels and sheets (PDF).
    #[arg(long, value_name = "FILE")]
    pub(crate) sheets: Option<PathBuf>,
    /// Write all tables with their description (ZIP).
    #[arg(long, value_name = "FILE")]
    pub(crate) data: Option<PathBuf>,
    /// Recipe of the cards; the first one if none.
    #[arg(long, default_value = "")]
    pub(crate) recipe: String,
    /// Title; the question if none.
    #[arg(long, default_value = "")]
    pub(crate) title: String,
    /// Authors as they wish, parted by commas.
    #[arg(long, default_value = "")]
    pub(crate) authors: String,
    /// Licence, such as CC-BY-4.0.
    #[arg(long, default_value = "")]
    pub(crate) licence: String,
}

#[derive(Debug, Args)]
pub(crate) struct Look {
    /// Photos (JPEG or PNG), each of one board straight from above on something dark; or a folder of them.
    #[arg(required_unless_present = "explain")]
    pub(crate) photos: Vec<PathBuf>,
    /// Size of the board as it lies in the photo, across first, such as `200x250mm`; without it a label or a bank card in the photo
    /// tells it, or nothing is told in millimetres.
    #[arg(long, default_value = "")]
    pub(crate) board: String,
    /// Corners of the board in pixels of the upright photo: top left, top right, bottom right, bottom left, `x,y;x,y;x,y;x,y`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) corners: Option<Four>,
    /// Corners of a bank card beside the board, clockwise, a long side first.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) card: Option<Four>,
    /// A grey or white patch in the same light, in pixels of the upright photo, and the share of light that it throws back:
    /// `x,y,width,height=0.18`.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) patch: Option<Patch>,
    /// Which way the grain of the wood runs: `across`, as the upper edge, or `down`.
    #[arg(long, value_enum)]
    pub(crate) grain: Option<Grain>,
    /// An older photo of the same board: what grew since then is told instead.
    #[arg(long, value_name = "PHOTO", conflicts_with_all = ["mask", "grain", "patch", "lattice"])]
    pub(crate) since: Option<PathBuf>,
    /// Measure a lattice of six cuts each way (the cross-cut test, after ISO 2409), with the distance from cut to cut such as `2mm` if it
    /// is known. A blade cuts: lead it away from your fingers, on a cutting mat; local rules come first.
    #[arg(long, value_name = "DISTANCE", num_args = 0..=1, default_missing_value = "")]
    pub(crate) lattice: Option<String>,
    /// Save the straightened board with its cracks drawn in (PNG), or the lattice alone with `--lattice`; for several photos a folder.
    #[arg(long, value_name = "FILE")]
    pub(crate) overlay: Option<PathBuf>,
    /// Save the cracks alone, 255 on 0 (PNG); for several photos a folder.
    #[arg(long, value_name = "FILE")]
    pub(crate) mask: Option<PathBuf>,
    /// Print what stands behind one figure, such as `width_median`.
    #[arg(long, value_name = "FIGURE")]
    pub(crate) explain: Option<String>,
    /// Print the report as JSON: one object for one photo, a list for several or a folder.
    #[arg(long)]
    pub(crate) json: bool,
}

/// Which way the grain of a board runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Grain {
    /// As the upper edge.
    Across,
    /// Down the board.
    Down,
}

#[derive(Debug, Args)]
pub(crate) struct Plan {
    /// Trial file; standard input if none.
    pub(crate) trial: Option<PathBuf>,
    /// Draw order and places from this seed instead of the file's.
    #[arg(long)]
    pub(crate) seed: Option<u64>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

/// Reports that have a schema.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum Report {
    /// `groundproof film 1`.
    Film,
    /// `groundproof why 1`.
    Why,
    /// `groundproof milk 1`.
    Milk,
    /// `groundproof curdle 1`.
    Curdle,
    /// `groundproof dissolve 1`.
    Dissolve,
    /// `groundproof glue 1`.
    Glue,
    /// `groundproof beside 1`.
    Beside,
    /// `groundproof wish 1`.
    Wish,
    /// `groundproof enlarge 1`.
    Enlarge,
    /// `groundproof jars 1`.
    Jars,
    /// `groundproof books 1`.
    Books,
    /// `groundproof plan 1`.
    Plan,
    /// `groundproof answer 1`.
    Answer,
    /// `groundproof look 1`.
    Look,
    /// `groundproof since 1`.
    Since,
}

fn at(text: &str) -> Result<At, String> {
    if text == HOUSE {
        return Ok(At::House);
    }
    text.parse().map(At::Address).map_err(|_| format!("`{text}` is no address; write it like 192.168.1.20, or leave it out"))
}

fn pair(text: &str) -> Result<(String, String), String> {
    let (key, value) = text.split_once('=').ok_or_else(|| format!("`{text}` lacks the `=`, as in `when=days later`"))?;
    Ok((key.trim().to_owned(), value.trim().to_owned()))
}
