//! How fast water leaves a wet ground on a board that lies flat.

use measure::{Celsius, GramsPerSquareMetreHour, MetresPerSecond, Millimetres};

use crate::air::{Air, KELVIN, PRESSURE, VAPOUR_GAS, saturation};

// Properties of air near 20 C, held for every temperature; standard heat-transfer tables (from memory).
/// Kinematic viscosity, m2/s.
const VISCOSITY: f64 = 1.516e-5;
/// Conductivity, W/(m K).
const CONDUCTIVITY: f64 = 0.0257;
/// Prandtl number.
const PRANDTL: f64 = 0.71;
/// Spreading of heat, m2/s.
const HEAT_SPREADING: f64 = 2.14e-5;
/// Spreading of vapour, m2/s.
const VAPOUR_SPREADING: f64 = 2.48e-5;
/// Heat in a cubic metre of air, J/(m3 K).
const AIR_HEAT: f64 = 1.2 * 1006.0;
/// Gas constant of dry air, J/(kg K).
const DRY_GAS: f64 = 287.05;
/// Pull of the earth, m/s2.
const GRAVITY: f64 = 9.81;
/// Stefan and Boltzmann's constant, W/(m2 K4).
const RADIATION: f64 = 5.67e-8;
/// Share of the black body's radiation that a wet ground sends out.
const EMISSIVITY: f64 = 0.9;
/// Conductivity of a wooden board across its thickness, W/(m K): softwood and plywood (USDA FPL-GTR-190, ch. 4, from memory).
const BOARD_CONDUCTIVITY: f64 = 0.12;
/// Under a free back the natural stream may turn about in still air (surface air lighter than the room's); no room is stiller than this.
const LEAST_DRAUGHT_FREE_BACK: f64 = 0.05;

const COLDEST: f64 = 5.0;
const HOTTEST: f64 = 40.0;
/// Swiftest draught, m/s: with the largest board the stream over it stays smooth (Re below 5e5).
const SWIFTEST: f64 = 2.0;
const SHORTEST: f64 = 20.0;
const LONGEST: f64 = 3000.0;
const THINNEST: f64 = 0.3;
const THICKEST: f64 = 60.0;

/// A room, a draught or a board for which nothing can be said.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EvaporationError {
    /// Air too cold or too hot.
    #[error("drying is reckoned from {COLDEST} to {HOTTEST} C, not at {celsius} C; check the temperature of the room")]
    Warmth {
        /// What was given.
        celsius: f64,
    },
    /// No draught, or a storm.
    #[error("drying is reckoned for a draught of 0 to {SWIFTEST} m/s, not {metres_per_second} m/s; a room has 0.05 to 0.3")]
    Draught {
        /// What was given.
        metres_per_second: f64,
    },
    /// A side too short or too long.
    #[error("drying is reckoned for sides of {SHORTEST} to {LONGEST} mm, not {millimetres} mm; say the size of a board as `200 x 250 mm`")]
    Side {
        /// What was given.
        millimetres: f64,
    },
    /// A board too thin or too thick.
    #[error("drying is reckoned for boards of {THINNEST} to {THICKEST} mm, not {millimetres} mm thick; check the thickness")]
    Thickness {
        /// What was given.
        millimetres: f64,
    },
}

/// What the back of a board does while the face dries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Back {
    /// It takes no heat: the board lies on felt or on another board.
    Insulated,
    /// Air of the room reaches it and warms it: the board stands on blocks or on edge.
    Free,
}

/// A board with a wet face, lying flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WetBoard {
    length: f64,
    width: f64,
    thickness: f64,
    back: Back,
}

impl WetBoard {
    /// A board of these sides and this thickness.
    ///
    /// # Errors
    /// A side outside 20 to 3,000 mm, or a thickness outside 0.3 to 60 mm.
    pub fn new(length: Millimetres, width: Millimetres, thickness: Millimetres, back: Back) -> Result<Self, EvaporationError> {
        for side in [length, width] {
            if !(SHORTEST..=LONGEST).contains(&side.value()) {
                return Err(EvaporationError::Side { millimetres: side.value() });
            }
        }
        if !(THINNEST..=THICKEST).contains(&thickness.value()) {
            return Err(EvaporationError::Thickness { millimetres: thickness.value() });
        }
        let [length, width, thickness] = [length, width, thickness].map(|size| size.value() / 1000.0);
        Ok(Self { length, width, thickness, back })
    }

    /// Thickness of the board.
    pub fn thickness(&self) -> Millimetres {
        Millimetres::new(self.thickness * 1000.0)
    }
}

/// How a wet ground dries while its face is wet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaporation {
    /// Water that leaves.
    pub rate: GramsPerSquareMetreHour,
    /// Temperature of the wet face: this is "cool to the touch".
    pub surface: Celsius,
    /// Heat that the air brings to the face, W/(m2 K).
    pub heat_transfer: f64,
}

/// Water that leaves a wet ground on a board that lies flat in this air and draught, as long as the face is wet; good to about 20 % before
/// the draught is known (Shah, HVAC&R Res. 8 (2002) 125, found this form best against 11 sets of data, mean deviation 18 %).
///
/// Heat reaches the face by a smooth stream along the plate and by the natural stream of its own cold air, both after standard
/// heat-transfer texts (Incropera and DeWitt; Lloyd and Moran 1974; from memory); vapour leaves by the same law (Lewis); the face is as cool as makes both
/// balance. A board that is not square counts as a square of the same area in the draught, whose direction nobody knows (model choice).
/// With a free back no draught is counted below 0.05 m/s.
///
/// # Errors
/// A room outside 5 to 40 C, or a draught outside 0 to 2 m/s.
///
/// ```
/// use measure::{Celsius, MetresPerSecond, Millimetres, RelativeHumidity};
/// use support::{Air, Back, WetBoard, evaporation};
/// let air = Air::new(Celsius::new(20.0), RelativeHumidity::new(50.0))?;
/// let side = Millimetres::new(300.0);
/// let board = WetBoard::new(side, side, Millimetres::new(6.0), Back::Insulated)?;
/// let found = evaporation(&air, MetresPerSecond::new(0.1), &board)?;
/// assert!((found.rate.value() - 43.2).abs() < 0.9);
/// assert!((found.surface.value() - 16.1).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn evaporation(air: &Air, draught: MetresPerSecond, board: &WetBoard) -> Result<Evaporation, EvaporationError> {
    let celsius = air.warmth().value();
    if !(COLDEST..=HOTTEST).contains(&celsius) {
        return Err(EvaporationError::Warmth { celsius });
    }
    if !(0.0..=SWIFTEST).contains(&draught.value()) {
        return Err(EvaporationError::Draught { metres_per_second: draught.value() });
    }
    Ok(Balance::of(air, draught.value(), board).solved())
}

/// Heat and vapour over one board.
struct Balance {
    warm: f64,
    vapour: f64,
    /// Vapour in the room, kg/m3.
    vapour_density: f64,
    room_density: f64,
    forced: f64,
    /// Characteristic length of the natural stream: area over perimeter, m.
    natural_length: f64,
    board: WetBoard,
    vapour_over_heat: f64,
}

/// Heat and vapour at one temperature of the face.
struct AtSurface {
    heat_transfer: f64,
    /// kg/(m2 s).
    flux: f64,
    /// Heat that comes less heat that the vapour takes, W/m2.
    surplus: f64,
}

impl Balance {
    fn of(air: &Air, draught: f64, board: &WetBoard) -> Self {
        let (warm, vapour) = (air.warmth().value(), air.vapour());
        let draught = if board.back == Back::Free { draught.max(LEAST_DRAUGHT_FREE_BACK) } else { draught };
        let side = (board.length * board.width).sqrt();
        let lewis = HEAT_SPREADING / VAPOUR_SPREADING;
        Self {
            warm,
            vapour,
            vapour_density: vapour / (VAPOUR_GAS * (warm + KELVIN)),
            room_density: density(warm, vapour),
            forced: 0.664 * (draught * side / VISCOSITY).sqrt() * PRANDTL.cbrt() * CONDUCTIVITY / side,
            natural_length: board.length * board.width / (2.0 * (board.length + board.width)),
            board: *board,
            vapour_over_heat: 1.0 / (AIR_HEAT * lewis.powf(2.0 / 3.0)),
        }
    }

    fn natural(&self, surface: f64, surface_vapour: f64) -> f64 {
        let lighter = self.room_density - density(surface, surface_vapour);
        let rayleigh = GRAVITY * lighter.abs() / self.room_density * self.natural_length.powi(3) / (VISCOSITY * HEAT_SPREADING);
        let fourth = rayleigh.sqrt().sqrt();
        // The larger of the two laws for rising air, so that nothing jumps where one takes over from the other (model choice).
        let nusselt = if lighter > 0.0 { (0.54 * fourth).max(0.15 * rayleigh.cbrt()) } else { 0.27 * fourth };
        nusselt * CONDUCTIVITY / self.natural_length
    }

    fn at(&self, surface: f64) -> AtSurface {
        let surface_vapour = saturation(surface);
        let natural = self.natural(surface, surface_vapour);
        let heat_transfer = (self.forced.powi(3) + natural.powi(3)).cbrt();
        let radiated = 4.0 * EMISSIVITY * RADIATION * (f64::midpoint(self.warm, surface) + KELVIN).powi(3);
        let back = match self.board.back {
            Back::Insulated => 0.0,
            // The back meets the same air as the face; its heat comes through the board.
            Back::Free => 1.0 / (self.board.thickness / BOARD_CONDUCTIVITY + 1.0 / (heat_transfer + radiated)),
        };
        let flux =
            heat_transfer * self.vapour_over_heat * (surface_vapour / (VAPOUR_GAS * (surface + KELVIN)) - self.vapour_density).max(0.0);
        // Heat of evaporation, J/kg, a line through the steam tables between 0 and 40 C.
        let latent = 2.501e6 - 2361.0 * surface;
        let surplus = (heat_transfer + radiated + back) * (self.warm - surface) - flux * latent;
        AtSurface { heat_transfer, flux, surplus }
    }

    /// The face lies between the dew point, where no vapour leaves, and the room, which brings no heat: the surplus changes its sign there.
    fn solved(&self) -> Evaporation {
        let (mut low, mut high) = (dew(self.vapour, self.warm), self.warm);
        let (mut at_low, mut at_high) = (self.at(low).surplus, self.at(high).surplus);
        let mut surface = high;
        let mut side = 0;
        // False position with halving (Illinois); it narrows in each step, and the count ends it in any case.
        for _ in 0..60 {
            if at_low - at_high <= 1e-12 || high - low < 1e-9 {
                break;
            }
            let next = (low * at_high - high * at_low) / (at_high - at_low);
            let moved = (next - surface).abs();
            surface = next;
            let surplus = self.at(surface).surplus;
            if surplus.abs() < 1e-9 || moved < 1e-9 {
                break;
            }
            if surplus > 0.0 {
                (low, at_low) = (surface, surplus);
                if side == 1 {
                    at_high /= 2.0;
                }
                side = 1;
            } else {
                (high, at_high) = (surface, surplus);
                if side == -1 {
                    at_low /= 2.0;
                }
                side = -1;
            }
        }
        let found = self.at(surface);
        Evaporation {
            rate: GramsPerSquareMetreHour::new(found.flux * 3.6e6),
            surface: Celsius::new(surface),
            heat_transfer: found.heat_transfer,
        }
    }
}

/// Density of moist air, kg/m3 (ideal gases).
fn density(celsius: f64, vapour: f64) -> f64 {
    let kelvin = celsius + KELVIN;
    (PRESSURE - vapour) / (DRY_GAS * kelvin) + vapour / (VAPOUR_GAS * kelvin)
}

/// A temperature at or a little below the dew point, from the form that can be turned about (Magnus, WMO No. 8 constants, from memory).
fn dew(vapour: f64, warm: f64) -> f64 {
    let g = (vapour / 611.2).ln();
    // The form is good to 0.04 C here; half a degree below it no vapour leaves, whichever form is right.
    (243.12 * g / (17.62 - g) - 0.5).min(warm)
}

#[cfg(test)]
mod tests;
