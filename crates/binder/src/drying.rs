//! How much casein a wet curd truly holds: weigh a spoonful, dry it, weigh what stays.

use measure::{Figure, Grams, Share, Unit};

use crate::error::BinderError;

/// A dish of curd, weighed wet and dry (without the dish).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dish {
    /// Before drying.
    pub wet: Grams,
    /// When it loses no more weight.
    pub dry: Grams,
}

/// What several dishes say together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryShare {
    /// Mean share that stays.
    pub mean: Share,
    /// Standard deviation between dishes; `None` for a single one.
    pub spread: Option<f64>,
    /// How many dishes.
    pub dishes: usize,
}

/// Spread between dishes that is taken when there is one only: 1 % of the curd (judgement, no source).
const ALONE: f64 = 0.01;
/// Half-width of a band that holds eight of ten, in standard errors, for 2, 3, 4, 5, 6 dishes (Student's t at 0.90, printed tables) and more.
const EIGHT_OF_TEN: [f64; 6] = [3.078, 1.886, 1.638, 1.533, 1.476, 1.282];

/// Reads the dishes. Washed curd is taken as casein and water: milk sugar left in it counts as casein here.
///
/// # Errors
/// No dish, or one that weighs more dry than wet.
///
/// ```
/// use binder::{Dish, dry_share};
/// use measure::Grams;
/// let dish = |wet, dry| Dish { wet: Grams::new(wet), dry: Grams::new(dry) };
/// // shares 0.24 and 0.26
/// let curd = dry_share(&[dish(10.0, 2.4), dish(20.0, 5.2)])?;
/// assert!((curd.mean.value() - 0.25).abs() < 1e-12);
/// # Ok::<(), binder::BinderError>(())
/// ```
pub fn dry_share(dishes: &[Dish]) -> Result<DryShare, BinderError> {
    let shares = dishes
        .iter()
        .map(|dish| {
            let (wet, dry) = (Grams::checked(dish.wet.value())?.value(), Grams::checked(dish.dry.value())?.value());
            if wet > 0.0 && dry <= wet { Ok(dry / wet) } else { Err(BinderError::Dish) }
        })
        .collect::<Result<Vec<f64>, BinderError>>()?;
    if shares.is_empty() {
        return Err(BinderError::Dish);
    }
    let count = shares.len() as f64;
    let mean = shares.iter().sum::<f64>() / count;
    let spread =
        (shares.len() > 1).then(|| (shares.iter().map(|share| (share - mean) * (share - mean)).sum::<f64>() / (count - 1.0)).sqrt());
    Ok(DryShare { mean: Share::new(mean), spread, dishes: shares.len() })
}

impl DryShare {
    /// Dry casein in so much of that curd, with its doubt.
    pub fn casein_in(&self, curd: Grams) -> Figure {
        let wide = match self.spread {
            None => EIGHT_OF_TEN.last().copied().unwrap_or(1.0) * ALONE,
            Some(spread) => {
                let t = EIGHT_OF_TEN.get(self.dishes.saturating_sub(2)).or(EIGHT_OF_TEN.last()).copied().unwrap_or(1.0);
                t * spread / (self.dishes as f64).sqrt()
            }
        };
        let of = |share: f64| curd.value() * share.clamp(0.0, 1.0);
        let mean = self.mean.value();
        Figure { key: "casein", value: of(mean), low: of(mean - wide), high: of(mean + wide), unit: Unit::Grams }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dish(wet: f64, dry: f64) -> Dish {
        Dish { wet: Grams::new(wet), dry: Grams::new(dry) }
    }

    #[test]
    fn three_dishes_by_hand() {
        // Shares 0.24, 0.25, 0.26: mean 0.25, deviation 0.01; 1.886 x 0.01 / 1.7321 = 0.010889. In 400 g: 100 g, 95.6 to 104.4.
        let curd = dry_share(&[dish(10.0, 2.4), dish(10.0, 2.5), dish(10.0, 2.6)]).unwrap();
        assert!((curd.spread.unwrap() - 0.01).abs() < 1e-12);
        let casein = curd.casein_in(Grams::new(400.0));
        assert!((casein.value - 100.0).abs() < 1e-9 && (casein.low - 95.644).abs() < 0.01 && (casein.high - 104.356).abs() < 0.01);
        // One dish alone: 1.282 x 0.01 either way.
        let one = dry_share(&[dish(10.0, 2.5)]).unwrap().casein_in(Grams::new(400.0));
        assert!((one.low - 94.872).abs() < 0.01);
    }

    #[test]
    fn dishes_that_cannot_be() {
        for dishes in [vec![], vec![dish(0.0, 0.0)], vec![dish(1.0, 2.0)], vec![dish(f64::NAN, 1.0)], vec![dish(1.0, f64::INFINITY)]] {
            assert!(dry_share(&dishes).is_err());
        }
    }
}
