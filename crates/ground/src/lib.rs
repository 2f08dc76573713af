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
mod mie;
mod missing;
mod mix;
mod narrow;
mod own;
mod packing;
mod plaster;
mod portion;
mod ranges;
mod release;
mod settling;
mod shrinkage;
mod stiffness;
mod thirst;
mod whiteness;
mod word;

pub use blend::tightest_packing;
pub use boards::{BRUSHABLE, Boards, CaseinPot, PotFigures, casein_pot, pot_with_ranges};
pub use change::{Change, changes_to_usual, powder_for};
pub use constants::{FilmBook, FilmConstant};
pub use crack_chance::{CRACK_DRAWS, Chance, CrackChance, Mover, crack_chance};
pub use cracking::{Held, Nature, Protein, held};
pub use drawn::Drawn;
pub use figures::{FIGURE_KEYS, FigureEntry, figure_entry, figures_are_sound, film_figure, moved_by};
pub use film::{Film, FilmError, Stirred, film, film_as_stirred};
pub use handbook::{Place, PlaceError, places, ticks};
pub use hiding::{FULL_HIDING, contrast, hides_wood, lightness, reflection, scattering_for, thrown_back};
pub use mie::{Sphere, powder_scattering, sphere};
pub use missing::{Wanted, wanted};
pub use mix::{LeftOut, Mix};
pub use narrow::{Finding, Narrowing, narrowings};
pub use own::{OwnError, OwnMeasure, oil_drop, own_inputs, own_result};
pub use packing::{INFILL_RATIO, RUB_OUT_OIL, critical_share, dispersed_share, ideal_infill, pore_radius};
pub use plaster::{GYPSUM_MADE, HEAT_OF_SETTING, SetPlaster, WATER_TAKEN, set_plaster, warming};
pub use portion::{GYPSUM, HEMIHYDRATE, Portion, Role, WATER};
pub use ranges::{Coat, FilmRanges, WET_SPREAD, film_with_ranges, line_masses};
pub use release::{Release, cracking_stretch, cracks_from, mismatch};
pub use settling::{Flow, bubble_rises, flows, in_a_crowd, sinks, under_rails};
pub use shrinkage::{cycles_until, damp_shrinkage, filled_shrinkage, gap_fill, pull, shrinkage, small_shrinkage};
pub use stiffness::{filled_stiffness, filled_toughness, with_air};
pub use thirst::{Drop, Thirst, drinks, drop_width, soaked, thirst};
pub use whiteness::{Hiding, HidingError, LonePowder, Over, hiding};
pub use word::{ALONE, EDGE_WIDTH, LEAN_ABOVE, RICH_BELOW, USUAL_MIDDLE, Word, Words, binder_beside_usual};
