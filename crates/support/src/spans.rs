//! When a coat on a board turns matt, takes the next coat and is dry, with the doubt of room, draught, wood and ground.

use materials::DataError;
use measure::{
    Celsius, Draws, GramsPerMillilitre, GramsPerSquareMetre, GramsPerSquareMetreHour, Hours, Input, InputKey, MetresPerSecond, Millimetres,
    RelativeHumidity, Share, Spread,
};

use crate::air::{Air, AirError};
use crate::book::DryingBook;
use crate::course::Course;
use crate::drying::{OpenFaces, Uptake, Wandering, WetFilm, WetFilmError, nine_tenths, until_matt};
use crate::evaporation::{Back, EvaporationError, WetBoard, evaporation};
use crate::span::Span;
use crate::waits::GroundKind;

/// Draws that a span is made of: the ends are uncertain by about a twentieth of its width.
pub const DRYING_DRAWS: Draws = Draws { count: 500, ..Draws::USUAL };

/// Half-width, in standard deviations, of the range that holds nine of ten of a bell curve (tables of the normal curve).
pub(crate) const NINE_OF_TEN: f64 = 1.645;
/// Air in which a board hardly dries, and the room counts as too damp to say when, per cent.
const TOO_DAMP: f64 = 95.0;

/// A value as read; nine of ten true values lie no further away than `within`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading<Q> {
    /// As read.
    pub value: Q,
    /// How far off it may be.
    pub within: Q,
}

/// How the air moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Draught {
    /// Closed, and nobody walks.
    Still,
    /// A room as rooms are; also when nothing is known.
    Room,
    /// A window or a door stands open.
    Airy,
    /// A fan blows.
    Fan,
}

impl Draught {
    /// Its line in `drying.csv`: [`DryingBook::input`] gives speed, range and source.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Still => "draught.still",
            Self::Room => "draught.room",
            Self::Airy => "draught.airy",
            Self::Fan => "draught.fan",
        }
    }
}

/// What the coat lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Face {
    /// Bare wood, or a lean coat that drinks like it.
    Bare,
    /// Sized.
    Sized,
}

/// The wet coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatAsked {
    /// Laid on a square metre.
    pub laid: Reading<GramsPerSquareMetre>,
    /// Density of the wet ground.
    pub density: GramsPerMillilitre,
    /// Share of its volume that stays when it is dry.
    pub solids: Share,
    /// Share of solids at which grains touch, if it is known.
    pub packing: Option<Share>,
}

/// One coat on one board in one room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryingAsked {
    /// Temperature of the room, if it was read.
    pub warmth: Option<Reading<Celsius>>,
    /// Its relative humidity, if it was read.
    pub damp: Option<Reading<RelativeHumidity>>,
    /// How the air moves.
    pub draught: Draught,
    /// One side of the board.
    pub length: Millimetres,
    /// The other side.
    pub width: Millimetres,
    /// Its thickness.
    pub thickness: Millimetres,
    /// Faces through which its water can leave.
    pub open: OpenFaces,
    /// Whether air warms its back.
    pub back: Back,
    /// What the coat lies on.
    pub face: Face,
    /// The coat.
    pub coat: CoatAsked,
    /// What kind of ground it is.
    pub ground: GroundKind,
}

/// Nothing can be said of when it is dry.
#[derive(Debug, Clone, thiserror::Error)]
pub enum DryingError {
    /// The room is out of range.
    #[error(transparent)]
    Air(#[from] AirError),
    /// The room, the draught or the board is out of range.
    #[error(transparent)]
    Evaporation(#[from] EvaporationError),
    /// The coat is out of range.
    #[error(transparent)]
    Film(#[from] WetFilmError),
    /// The room takes up hardly any water.
    #[error("air of {percent} % hardly takes up water, so no time can be said; warm or air the room until it is below {TOO_DAMP} %")]
    TooDamp {
        /// What was given.
        percent: f64,
    },
    /// How far a reading may be off is no number.
    #[error("how far {what} may be off must be an ordinary number of 0 or more; leave the reading out if it isn't known")]
    Within {
        /// Which reading.
        what: &'static str,
    },
    /// An oil ground hardens with the oxygen of the air; no water leaves.
    #[error("an oil ground hardens with the air, it loses no water; its wait is counted in months")]
    NotByWater,
    /// A data file is broken.
    #[error(transparent)]
    Data(#[from] DataError),
}

/// Something about the room that the painter should hear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RoomWarning {
    /// Below about 10 C a ground of glue or casein dries more slowly than it spoils (common practice, no source).
    Cold,
    /// Above about 80 % the same.
    Damp,
    /// Above about 30 C, or before a fan, the coat may crack while it shrinks (common practice, no source).
    Forced,
}

/// When the next coat goes on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextCoat {
    /// It takes the next coat.
    pub opens: Span<Hours>,
    /// Until then the coat is cool and open and the two knit; `None` if each coat must be dry.
    pub best_until: Option<Span<Hours>>,
    /// After that it is warm and hard, and must be damped or keyed first; `None` if each coat must be dry.
    pub closes: Option<Span<Hours>>,
}

/// All times count from when the coat was laid.
#[derive(Debug, Clone, PartialEq)]
pub struct DryingSpans {
    /// The shine goes.
    pub matt: Span<Hours>,
    /// When the next coat goes on; `None` if no rule is known for this ground.
    pub next_coat: Option<NextCoat>,
    /// It may be sanded: it loses less than 0.5 g/m2 an hour. Only of its water; whether it has set stands in the table of waits.
    pub sand: Span<Hours>,
    /// It may be tested: also, on bare wood, nine tenths of what the board drank have left it.
    pub test: Span<Hours>,
    /// Nine tenths of the water that the board drank have left it.
    pub board: Span<Hours>,
    /// Water that leaves while the face is wet.
    pub rate: Span<GramsPerSquareMetreHour>,
    /// Temperature of the wet face: how cool it feels.
    pub surface: Span<Celsius>,
    /// What the board should weigh less as time goes, at the best inputs: weighings are held against it.
    pub course: Course,
    /// About the room.
    pub warnings: Vec<RoomWarning>,
}

/// The unknowns of one board, in one order.
struct Unknowns {
    warmth: Input,
    damp: Input,
    draught: Input,
    error: Input,
    laid: Input,
    packing: Input,
    uptake: Input,
    wandering: Input,
    knit: Input,
}

/// One row of values of the unknowns.
struct Values {
    warmth: f64,
    damp: f64,
    draught: f64,
    error: f64,
    laid: f64,
    packing: f64,
    uptake: f64,
    wandering: f64,
    knit: f64,
}

/// Times of one row, in hours.
struct Times {
    course: Course,
    matt: f64,
    best_until: f64,
    closes: f64,
    sand: f64,
    board: f64,
    surface: f64,
}

/// What the rule of the next coat is made of.
struct Rules {
    cool: f64,
    missed: f64,
    steady: f64,
}

/// When one coat on one board turns matt, takes the next, and may be sanded and tested.
///
/// `usual` is the plain physics at the best inputs; the ends hold eight of ten draws.
///
/// # Errors
/// Air, draught, board or coat outside the ranges of [`Air::new`], [`evaporation`] (5 to 40 C), [`WetBoard::new`], [`WetFilm::new`]; air above 95 %; an
/// oil ground.
///
/// ```
/// use measure::{Celsius, GramsPerMillilitre, GramsPerSquareMetre, Millimetres, RelativeHumidity, Share};
/// use support::{Back, CoatAsked, Draught, DryingAsked, Face, GroundKind, OpenFaces, Reading, DRYING_DRAWS, drying_spans};
/// let asked = DryingAsked {
///     warmth: Some(Reading { value: Celsius::new(20.0), within: Celsius::new(1.0) }),
///     damp: Some(Reading { value: RelativeHumidity::new(50.0), within: RelativeHumidity::new(5.0) }),
///     draught: Draught::Room,
///     length: Millimetres::new(200.0), width: Millimetres::new(250.0), thickness: Millimetres::new(6.0),
///     open: OpenFaces::Both, back: Back::Free, face: Face::Sized,
///     coat: CoatAsked {
///         laid: Reading { value: GramsPerSquareMetre::new(200.0), within: GramsPerSquareMetre::new(10.0) },
///         density: GramsPerMillilitre::new(1.6), solids: Share::new(0.35), packing: None,
///     },
///     ground: GroundKind::Glue,
/// };
/// let spans = drying_spans(&asked, DRYING_DRAWS)?;
/// assert!(spans.matt.usual.value() > 0.4 && spans.matt.usual.value() < 1.5);
/// assert!(spans.matt.low <= spans.matt.usual && spans.matt.usual <= spans.matt.high);
/// # Ok::<(), support::DryingError>(())
/// ```
pub fn drying_spans(asked: &DryingAsked, draws: Draws) -> Result<DryingSpans, DryingError> {
    if asked.ground == GroundKind::Oil {
        return Err(DryingError::NotByWater);
    }
    let book = DryingBook::builtin()?;
    let unknowns = Unknowns::of(asked, book)?;
    let rules = Rules { cool: book.value("knit.cool")?, missed: book.value("knit.missed")?, steady: book.value("steady.rate")? };
    let board = WetBoard::new(asked.length, asked.width, asked.thickness, asked.back)?;
    let best = unknowns.best();
    // Ranges are checked at the best inputs; draws are held inside them.
    WetFilm::new(GramsPerSquareMetre::new(best.laid), asked.coat.density, asked.coat.solids, Share::new(best.packing))?;
    let usual = times(asked, &board, &rules, &best)?;
    if best.damp > TOO_DAMP {
        return Err(DryingError::TooDamp { percent: best.damp });
    }
    // Held inside the ranges, no draw fails; `ok` only spares a second way out.
    let drawn: Vec<Times> = (0..draws.count).filter_map(|index| times(asked, &board, &rules, &unknowns.drawn(draws, index)).ok()).collect();
    let span = |of: &dyn Fn(&Times) -> f64| Span::of(of(&usual), drawn.iter().map(of).collect(), Hours::new);
    let (matt, sand) = (span(&|t| t.matt), span(&|t| t.sand));
    let next_coat = match asked.ground {
        GroundKind::Acrylic => Some(NextCoat { opens: sand, best_until: None, closes: None }),
        ground if ground.spoils() => {
            Some(NextCoat { opens: matt, best_until: Some(span(&|t| t.best_until)), closes: Some(span(&|t| t.closes)) })
        }
        _ => None,
    };
    let parked = asked.face == Face::Bare;
    Ok(DryingSpans {
        matt,
        next_coat,
        sand,
        test: span(&|t| if parked { t.sand.max(t.board) } else { t.sand }),
        board: span(&|t| t.board),
        rate: Span::of(usual.course.rate().value(), drawn.iter().map(|t| t.course.rate().value()).collect(), GramsPerSquareMetreHour::new),
        surface: Span::of(usual.surface, drawn.iter().map(|t| t.surface).collect(), Celsius::new),
        course: usual.course,
        warnings: warnings(asked, &best),
    })
}

fn times(asked: &DryingAsked, board: &WetBoard, rules: &Rules, values: &Values) -> Result<Times, DryingError> {
    let air = Air::new(Celsius::new(values.warmth), RelativeHumidity::new(values.damp))?;
    let wet = evaporation(&air, MetresPerSecond::new(values.draught), board)?;
    let rate = wet.rate * values.error;
    let film = WetFilm::of(values.laid / asked.coat.density.value(), asked.coat.solids.value(), values.packing);
    let uptake = Uptake::new(values.uptake);
    let too_damp = DryingError::TooDamp { percent: values.damp };
    let matt = until_matt(&film, rate, uptake).ok_or(too_damp)?;
    let course = Course::of(rate, matt, &film, uptake.drunk(matt), board.thickness(), asked.open, Wandering::new(values.wandering));
    // The face warms as its water goes: its coolness sinks as the rate does.
    let coolness = values.warmth - wet.surface.value();
    let cool_until = matt.value() + course.falling().value() * (coolness / rules.cool).max(1.0).ln();
    let best_until = cool_until.max(values.knit).max(matt.value());
    Ok(Times {
        matt: matt.value(),
        best_until,
        closes: best_until.max(rules.missed),
        sand: course.steady_after(GramsPerSquareMetreHour::new(rules.steady)).value(),
        board: nine_tenths(board.thickness(), asked.open, Wandering::new(values.wandering)).value(),
        surface: wet.surface.value(),
        course,
    })
}

fn warnings(asked: &DryingAsked, best: &Values) -> Vec<RoomWarning> {
    let mut all = Vec::new();
    if asked.ground.spoils() && best.warmth < 10.0 {
        all.push(RoomWarning::Cold);
    }
    if asked.ground.spoils() && best.damp > 80.0 {
        all.push(RoomWarning::Damp);
    }
    if best.warmth > 30.0 || asked.draught == Draught::Fan {
        all.push(RoomWarning::Forced);
    }
    all
}

impl Unknowns {
    fn of(asked: &DryingAsked, book: &DryingBook) -> Result<Self, DryingError> {
        let warmth = asked.warmth.map(|read| (read.value.value(), read.within.value()));
        let damp = asked.damp.map(|read| (read.value.value(), read.within.value()));
        let laid = (asked.coat.laid.value.value(), asked.coat.laid.within.value());
        let named = |key: &str| book.input(key).cloned();
        let packing = match asked.coat.packing {
            Some(share) => read("packing", "powder packing when the grains first touch", "1", share.value(), 0.0),
            None => named("packing")?,
        };
        let within = |what, off: f64| if off >= 0.0 && off.is_finite() { Ok(()) } else { Err(DryingError::Within { what }) };
        within("the temperature", warmth.map_or(0.0, |read| read.1))?;
        within("the humidity", damp.map_or(0.0, |read| read.1))?;
        within("the weight of the coat", laid.1)?;
        Ok(Self {
            warmth: match warmth {
                Some((value, within)) => read("air.warmth", "how warm the room is", "C", value, within),
                None => named("air.warmth")?,
            },
            damp: match damp {
                Some((value, within)) => read("air.damp", "how damp the room is", "%", value, within),
                None => named("air.damp")?,
            },
            draught: named(asked.draught.key())?,
            error: named("rate.error")?,
            laid: read("coat.laid", "how much was laid", "g/m2", laid.0, laid.1),
            packing,
            uptake: named(if asked.face == Face::Bare { "uptake.bare" } else { "uptake.sized" }).and_then(|input| match asked.face {
                Face::Bare => Ok(input),
                // A sized face drinks a share of what bare wood does.
                Face::Sized => book.value("uptake.bare").map(|bare| scaled(input, bare)),
            })?,
            wandering: named("spread.wood")?,
            knit: named("knit.usual")?,
        })
    }

    fn values(&self, of: impl Fn(&Input) -> f64) -> Values {
        Values {
            warmth: of(&self.warmth),
            damp: of(&self.damp),
            draught: of(&self.draught),
            error: of(&self.error),
            laid: of(&self.laid),
            packing: of(&self.packing),
            uptake: of(&self.uptake),
            wandering: of(&self.wandering),
            knit: of(&self.knit),
        }
    }

    fn best(&self) -> Values {
        self.values(|input| input.best)
    }

    /// Draws that no room or coat has are brought back to the edge of what can be reckoned.
    fn drawn(&self, draws: Draws, index: usize) -> Values {
        let drawn = self.values(|input| draws.value(input, index));
        Values {
            warmth: drawn.warmth.clamp(5.0, 40.0),
            damp: drawn.damp.clamp(1.0, 99.0),
            draught: drawn.draught.clamp(0.0, 2.0),
            laid: drawn.laid.max(1.0),
            ..drawn
        }
    }
}

fn read(key: &str, plain: &str, unit: &'static str, value: f64, within: f64) -> Input {
    Input {
        key: InputKey::new(key),
        plain: plain.to_owned(),
        best: value,
        spread: if within > 0.0 { Spread::Normal(within / NINE_OF_TEN) } else { Spread::Exact },
        unit,
        source: "as you read it".to_owned(),
    }
}

fn scaled(input: Input, by: f64) -> Input {
    let spread = match input.spread {
        Spread::Even(low, high) => Spread::Even(low * by, high * by),
        other => other,
    };
    Input { best: input.best * by, spread, ..input }
}

#[cfg(test)]
mod tests;
