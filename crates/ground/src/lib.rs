//! From a recipe to its film: composition, the share of powder against its critical share, air, thickness, and the words rich,
//! usual and lean. Every function is plain: one set of quantities in, one film out; [`film_with_ranges`] asks it once a draw.
#![forbid(unsafe_code)]

mod boards;
mod change;
mod figures;
mod film;
mod handbook;
mod missing;
mod mix;
mod narrow;
mod plaster;
mod portion;
mod ranges;
mod word;

pub use boards::{BRUSHABLE, Boards, CaseinPot, casein_pot};
pub use change::{Change, changes_to_usual, powder_for};
pub use figures::{FIGURE_KEYS, FigureEntry, figure_entry, film_figure};
pub use film::{Film, FilmError, RUB_OUT_OIL, critical_share, film};
pub use handbook::{Place, PlaceError, places, ticks};
pub use missing::{Wanted, wanted};
pub use mix::{LeftOut, Mix};
pub use narrow::{Finding, Narrowing, narrowings};
pub use plaster::{GYPSUM_MADE, SetPlaster, WATER_TAKEN, set_plaster};
pub use portion::{GYPSUM, HEMIHYDRATE, Portion, Role, WATER};
pub use ranges::{Coat, FilmRanges, WET_SPREAD, film_with_ranges, line_masses};
pub use word::{ALONE, BESIDE, EDGE_WIDTH, LEAN_ABOVE, RICH_BELOW, USUAL_MIDDLE, Word, Words, binder_beside_usual};
