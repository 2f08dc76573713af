//! From a recipe to its film: composition, the share of powder against its critical share, air, thickness, and the words rich,
//! usual and lean. Every function is plain: one set of quantities in, one film out; [`film_with_ranges`] asks it once a draw.
#![forbid(unsafe_code)]

mod blend;
mod boards;
mod change;
mod constants;
mod crack_chance;
mod cracking;
mod drawn;
mod figures;
mod film;
mod handbook;
mod hiding;
mod missing;
mod mix;
mod narrow;
mod own;
mod packing;
mod plaster;
mod portion;
mod ranges;
mod release;
mod shrinkage;
mod stiffness;
mod whiteness;
mod wish;
mod word;

pub use blend::tightest_packing;
pub use boards::{BRUSHABLE, Boards, CaseinPot, PotFigures, casein_pot, pot_with_ranges};
pub use change::{Change, changes_to_usual, powder_for};
pub use constants::{FilmBook, FilmConstant};
pub use crack_chance::{CRACK_DRAWS, Chance, CrackChance, Mover, crack_chance};
pub use cracking::{Held, Nature, Protein, held};
pub use drawn::Drawn;
pub use figures::{FIGURE_KEYS, FigureEntry, figure_entry, figures_are_sound, film_figure, moved_by};
pub use film::{Film, FilmError, film};
pub use handbook::{Place, PlaceError, places, ticks};
pub use hiding::{FULL_HIDING, contrast, reflection, scattering_for, thrown_back};
pub use missing::{Wanted as Missing, wanted};
pub use mix::{LeftOut, Mix};
pub use narrow::{Finding, Narrowing, narrowings};
pub use own::{OwnError, OwnMeasure, own_inputs, own_result};
pub use packing::{INFILL_RATIO, RUB_OUT_OIL, critical_share, dispersed_share, ideal_infill, pore_radius};
pub use plaster::{GYPSUM_MADE, HEAT_OF_SETTING, SetPlaster, WATER_TAKEN, set_plaster, warming};
pub use portion::{GYPSUM, HEMIHYDRATE, Portion, Role, WATER};
pub use ranges::{Coat, FilmRanges, WET_SPREAD, film_with_ranges, line_masses};
pub use release::{Release, cracking_stretch, cracks_from, mismatch};
pub use shrinkage::{cycles_until, damp_shrinkage, filled_shrinkage, gap_fill, pull, shrinkage, small_shrinkage};
pub use stiffness::{filled_stiffness, filled_toughness, with_air};
pub use whiteness::{Hiding, HidingError, hiding};
pub use wish::{Brings, Stuff, Wanted, largest_pot, nearest_pot, to_steps};
pub use word::{ALONE, EDGE_WIDTH, LEAN_ABOVE, RICH_BELOW, USUAL_MIDDLE, Word, Words, binder_beside_usual};
