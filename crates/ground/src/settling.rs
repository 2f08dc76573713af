//! What happens in a pot that is left alone: grains sink, bubbles rise. And how thick a coat tape rails leave.

use std::sync::OnceLock;

use materials::DataError;
use measure::{GramsPerMillilitre, Micrometres, Millilitres, Millimetres, Share};

const FILE: &str = "flow.csv";
/// Fall on earth, m/s2.
const FALL: f64 = 9.81;
/// Power of the free room by which grains in a crowd sink more slowly (Richardson and Zaki 1954, from memory; a compilation of 27 sets of
/// data finds 4.5 for coarse grains and 5.6 for the finest: Brzinski and Durian 2018, abstract).
const CROWD: f64 = 4.65;

/// How thick a liquid is, in words, with what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Flow {
    /// Short name, such as `cream`.
    pub key: String,
    /// In words, such as "like cream".
    pub plain: String,
    /// Usual thickness, and the least and most that the word may mean; mPa s.
    pub thick: (f64, f64, f64),
    /// Where it comes from.
    pub source: String,
}

/// Words for how thick a pot is, thinnest first.
///
/// # Errors
/// The data file is broken; a test keeps it sound.
pub fn flows() -> Result<&'static [Flow], DataError> {
    static ONCE: OnceLock<Result<Vec<Flow>, DataError>> = OnceLock::new();
    ONCE.get_or_init(|| read(include_str!("../data/flow.csv"))).as_deref().map_err(Clone::clone)
}

type Row = (String, String, f64, f64, f64, String, String);

fn read(text: &str) -> Result<Vec<Flow>, DataError> {
    let mut out = Vec::new();
    for (index, row) in csv::Reader::from_reader(text.as_bytes()).deserialize::<Row>().enumerate() {
        let wrong = |what: String| DataError { file: FILE, line: index + 2, what };
        let (key, plain, value, low, high, _, source) = row.map_err(|e| wrong(e.to_string()))?;
        if source.trim().is_empty() || !(0.0 < low && low <= value && value <= high) {
            return Err(wrong("needs a source and a thickness inside its range".into()));
        }
        out.push(Flow { key, plain, thick: (value, low, high), source });
    }
    Ok(out)
}

/// Millimetres a minute by which one small grain sinks, or one bubble rises: `d^2 (difference of densities) g / (18 thickness)` (Stokes
/// 1851). Below 0 it rises. It holds while it is slow, for a liquid that is no jelly: a jelly or a clotted pot holds both for hours, so
/// this is the fastest case.
///
/// ```
/// use measure::{GramsPerMillilitre as D, Micrometres};
/// // By hand: (1e-5 m)^2 x 1700 x 9.81 / (18 x 0.002) = 4.6325e-5 m/s = 2.780 mm/min.
/// let speed = ground::sinks(Micrometres::new(10.0), D::new(2.7), D::new(1.0), 2.0);
/// assert!((speed - 2.780).abs() < 0.002);
/// ```
pub fn sinks(grain: Micrometres, density: GramsPerMillilitre, liquid: GramsPerMillilitre, thick_mpa_s: f64) -> f64 {
    let metres = grain.value() * 1e-6;
    let per_second = metres * metres * 1e3 * (density - liquid).value() * FALL / (18.0 * thick_mpa_s * 1e-3);
    per_second * 6e4
}

/// How much more slowly grains sink in a crowd that takes this share of the volume, 0..1.
pub fn in_a_crowd(share: f64) -> f64 {
    (1.0 - share.clamp(0.0, 1.0)).powf(CROWD)
}

/// Minutes until a bubble of this size has risen so far through a pot of this density; `None` where nothing drives it.
///
/// ```
/// use measure::{GramsPerMillilitre as D, Micrometres, Millimetres};
/// // By hand: (1e-4)^2 x 1448.5 x 9.81 / (18 x 0.5) = 1.5789e-5 m/s = 0.947 mm/min; 60 mm in 63.3 min.
/// let rest = ground::bubble_rises(Micrometres::new(100.0), D::new(1.4485), 500.0, Millimetres::new(60.0)).ok_or("it does not rise")?;
/// assert!((rest - 63.3).abs() < 0.3);
/// # Ok::<(), &'static str>(())
/// ```
pub fn bubble_rises(bubble: Micrometres, pot: GramsPerMillilitre, thick_mpa_s: f64, height: Millimetres) -> Option<f64> {
    let minutes = height.value() / -sinks(bubble, GramsPerMillilitre::ZERO, pot, thick_mpa_s);
    (minutes.is_finite() && minutes > 0.0).then_some(minutes)
}

/// Share by which a coat dries thicker than the first, laid as thick, once this water is gone from what is in the pot; 1 and no more where
/// half of the pot or all of it is gone, since nobody lays that.
///
/// ```
/// use measure::Millilitres as Ml;
/// // By hand: what filled 145 ml fills 143.5 ml: 145 / 143.5 - 1 = 1.045 %.
/// assert!((ground::dries_thicker(Ml::new(145.0), Ml::new(1.5)).value() - 0.01045).abs() < 1e-5);
/// assert!((ground::dries_thicker(Ml::new(100.0), Ml::new(150.0)).value() - 1.0).abs() < 1e-12);
/// ```
pub fn dries_thicker(pot: Millilitres, lost: Millilitres) -> Share {
    let left = (pot - lost).value();
    Share::new(if left > 0.0 { (pot.value() / left - 1.0).min(1.0) } else { 1.0 })
}

/// Wet coat under a straight blade drawn along rails of so many layers of tape: between half the gap and all of it (common practice, no
/// source), so the rails make a coat even and the scale says how thick it is.
///
/// ```
/// use measure::Micrometres;
/// let (thin, thick) = ground::under_rails(2, Micrometres::new(130.0));
/// assert_eq!((thin.value(), thick.value()), (130.0, 260.0));
/// ```
pub fn under_rails(layers: u32, tape: Micrometres) -> (Micrometres, Micrometres) {
    let gap = tape * f64::from(layers);
    (gap * 0.5, gap)
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::GramsPerMillilitre as D;
    use proptest::prelude::*;

    fn um(value: f64) -> Micrometres {
        Micrometres::new(value)
    }

    #[test]
    fn a_grain_of_chalk_by_hand() {
        // 1e-10 x 1700 x 9.81 / (18 x 0.02) = 4.6325e-6 m/s = 0.2780 mm/min; 0.75^4.65 = exp(4.65 x -0.28768) = 0.2624.
        assert!((sinks(um(10.0), D::new(2.7), D::new(1.0), 20.0) - 0.2780).abs() < 2e-4);
        assert!((in_a_crowd(0.25) - 0.2624).abs() < 2e-4);
        assert!((sinks(um(10.0), D::new(2.7), D::new(1.0), 2.0) * in_a_crowd(0.25) - 0.7295).abs() < 0.003);
    }

    #[test]
    fn bubbles_by_hand() {
        let minutes = |size, thick, mm| bubble_rises(um(size), D::new(1.4485), thick, Millimetres::new(mm)).unwrap();
        // Five times thinner, five times faster: 12.7 min. Twice as wide, four times faster: 15.8 min. Half as wide: 253 min.
        assert!((minutes(100.0, 100.0, 60.0) - 12.7).abs() < 0.06);
        assert!((minutes(200.0, 500.0, 60.0) - 15.8).abs() < 0.08);
        assert!((minutes(50.0, 500.0, 60.0) - 253.0).abs() < 1.3);
        // Through a wet coat of 300 um: 0.3 / 0.947 min = 19.0 s; the smaller one 76 s.
        assert!((minutes(100.0, 500.0, 0.3) * 60.0 - 19.0).abs() < 0.1);
        assert!((minutes(50.0, 500.0, 0.3) * 60.0 - 76.0).abs() < 0.4);
        assert!(bubble_rises(um(0.0), D::new(1.4), 1.0, Millimetres::new(1.0)).is_none());
    }

    #[test]
    fn rails_by_hand() {
        // Two layers of 0.13 mm: 130 to 260 um wet; at 1.4485 g/ml 188 to 377 g/m2; dry times 0.3873: 50.3 to 100.7 um.
        let (thin, thick) = under_rails(2, um(130.0));
        assert!((1.4485 * thin.value() - 188.3).abs() < 0.5 && (1.4485 * thick.value() - 376.6).abs() < 0.5);
        assert!((0.3873 * thin.value() - 50.3).abs() < 0.1 && (0.3873 * thick.value() - 100.7).abs() < 0.1);
    }

    #[test]
    fn words_go_from_thin_to_thick() {
        let words = flows().unwrap();
        assert!(words.len() == 4 && words.is_sorted_by(|a, b| a.thick.0 < b.thick.0));
        assert!(read("a,b,c,d,e,f,g\nx,x,1,2,3,u,s\n").unwrap_err().to_string().contains("flow.csv"));
    }

    proptest! {
        #[test]
        fn thicker_and_fuller_pots_hold_grains_longer(size in 0.1f64..100.0, thick in 1.0f64..1e4, more in 1.0f64..10.0, a in 0.0f64..0.6, b in 0.0f64..0.6) {
            let speed = |thick| sinks(um(size), D::new(2.71), D::new(1.0), thick);
            prop_assert!(speed(thick * more) <= speed(thick));
            prop_assert!(in_a_crowd(a.max(b)) <= in_a_crowd(a.min(b)));
        }
    }
}
