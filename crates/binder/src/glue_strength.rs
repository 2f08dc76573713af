//! Glue in water to a strength that is wanted, and what "1:10" means, with the doubt of what was told.

use measure::{Draws, Figure, Grams, Input, Unit};

/// What brings glue and water to a strength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ToStrength {
    /// It is there.
    AsItIs,
    /// So much water.
    Water(Grams),
    /// So much dry glue.
    Glue(Grams),
}

/// Water or dry glue that brings so much glue in so much water to this strength, per cent by weight; `None` where nothing is there or the
/// strength is not between 0 and 100.
///
/// ```
/// use binder::{ToStrength, to_strength};
/// use measure::Grams;
/// // 100 g of 12 % size to 9 %: 12 g of glue make 133.33 g, so 33.33 g of water.
/// let Some(ToStrength::Water(water)) = to_strength(Grams::new(12.0), Grams::new(88.0), 9.0) else { panic!() };
/// assert!((water.value() - 33.333).abs() < 0.001);
/// ```
pub fn to_strength(glue: Grams, water: Grams, percent: f64) -> Option<ToStrength> {
    let whole = glue + water;
    if !(whole.value() > 0.0 && percent > 0.0 && percent < 100.0) {
        return None;
    }
    let more_water = glue * (100.0 / percent) - whole;
    let more_glue = water * (percent / (100.0 - percent)) - glue;
    // A hundred-thousandth of the pot is less than any balance reads.
    let nothing = 1e-5 * whole.value();
    Some(if more_water.value() > nothing {
        ToStrength::Water(more_water)
    } else if more_glue.value() > nothing {
        ToStrength::Glue(more_glue)
    } else {
        ToStrength::AsItIs
    })
}

/// Strength of so many parts of dry glue in so many of water, per cent by weight, if the parts are weights and if they are volumes of loose
/// glue of this weight, g/ml; `None` unless both parts and the weight are above 0. A millilitre of water counts as a gram.
///
/// ```
/// let (by_weight, by_volume) = binder::parts_percent(1.0, 10.0, 0.7).unwrap();
/// assert!((by_weight - 9.0909).abs() < 1e-4); // 1 / 11
/// assert!((by_volume - 6.5421).abs() < 1e-4); // 0.7 / 10.7
/// ```
pub fn parts_percent(glue: f64, water: f64, loose: f64) -> Option<(f64, f64)> {
    let sound = [glue, water, loose].iter().all(|part| *part > 0.0 && part.is_finite());
    sound.then(|| (100.0 * glue / (glue + water), 100.0 * glue * loose / (glue * loose + water)))
}

/// Glue and water as told.
#[derive(Debug, Clone, PartialEq)]
pub struct GlueRequest {
    /// Dry glue, g; 0 where only the water was told.
    pub glue: Input,
    /// Water, g; 0 where only the glue was told.
    pub water: Input,
    /// What a millilitre of the loose glue weighs, g.
    pub loose: Input,
    /// Parts of glue and of water, where a ratio was told.
    pub parts: Option<(f64, f64)>,
    /// Strength wanted, per cent by weight.
    pub wanted: Option<f64>,
}

/// One reading of a ratio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GlueParts {
    /// Strength as a share.
    pub share: Figure,
    /// Water for the glue at hand; `None` without glue.
    pub water: Option<Figure>,
}

/// What comes of glue and water, with doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct GlueFigures {
    /// Dry glue.
    pub glue: Figure,
    /// Water.
    pub water: Figure,
    /// Glue in glue and water as they are at hand; `None` where one of them was not told.
    pub share: Option<Figure>,
    /// Water to put in for the strength wanted; 0 where it is thinner than that.
    pub add_water: Option<Figure>,
    /// Dry glue to put in for the strength wanted; 0 where it is stronger than that.
    pub add_glue: Option<Figure>,
    /// The ratio as weights.
    pub by_weight: Option<GlueParts>,
    /// The ratio as volumes.
    pub by_volume: Option<GlueParts>,
}

/// Reads an unknown at its best or in one draw.
type Reader<'a> = &'a dyn Fn(&Input) -> f64;

/// Strength, and what is to be added, each with the range that the doubt of the inputs leads to.
pub fn glue_with_ranges(request: &GlueRequest, draws: Draws) -> GlueFigures {
    let figure = |key: &'static str, unit: Unit, of: &dyn Fn(Reader<'_>) -> f64| {
        let drawn = (0..draws.count).map(|index| of(&|input| draws.value(input, index))).collect();
        Figure::from_draws(key, of(&|input| input.best), drawn, unit)
    };
    let both = |value: Reader<'_>| (value(&request.glue), value(&request.water));
    let has_glue = request.glue.best > 0.0;
    let added = |key: &'static str, percent: f64, wants_water: bool| {
        figure(key, Unit::Grams, &|value| {
            let (glue, water) = both(value);
            match (to_strength(Grams::new(glue), Grams::new(water), percent), wants_water) {
                (Some(ToStrength::Water(water)), true) => water.value(),
                (Some(ToStrength::Glue(glue)), false) => glue.value(),
                _ => 0.0,
            }
        })
    };
    let parts = |volume: bool| {
        let (glue, water) = request.parts?;
        parts_percent(glue, water, request.loose.best)?;
        let weight = move |loose: f64| if volume { glue * loose } else { glue };
        let (share, wanted) = if volume { ("ratio_by_volume", "ratio_water") } else { ("ratio_by_weight", "ratio_water") };
        Some(GlueParts {
            share: figure(share, Unit::One, &|value| {
                let weight = weight(value(&request.loose));
                weight / (weight + water)
            }),
            water: has_glue.then(|| figure(wanted, Unit::Grams, &|value| value(&request.glue) * water / weight(value(&request.loose)))),
        })
    };
    GlueFigures {
        glue: figure("glue_dry", Unit::Grams, &|value| value(&request.glue)),
        water: figure("glue_water", Unit::Grams, &|value| value(&request.water)),
        share: (has_glue && request.water.best > 0.0).then(|| {
            figure("glue_share", Unit::One, &|value| {
                let (glue, water) = both(value);
                glue / (glue + water)
            })
        }),
        add_water: request.wanted.map(|percent| added("glue_add_water", percent, true)),
        add_glue: request.wanted.map(|percent| added("glue_add_glue", percent, false)),
        by_weight: parts(false),
        by_volume: parts(true),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::glue::glue_percent;
    use measure::{InputKey, Spread};
    use proptest::prelude::*;

    fn input(key: &str, best: f64, spread: Spread) -> Input {
        Input { key: InputKey::new(key), plain: key.into(), best, spread, unit: "g", source: "as told".into() }
    }

    #[test]
    fn printed_strengths_by_hand() {
        let of = |glue: f64, water: f64| glue_percent(Grams::new(glue), Grams::new(water)).unwrap();
        // Studio handbook text (Mayer) as reproduced: 2.5 oz in 1 US quart. 2.5 x 28.3495 = 70.874; / (70.874 + 946.353) = 6.967 %.
        assert!((of(70.874, 946.353) - 6.97).abs() < 0.01);
        // Common practice, no source: 70 g in a litre: 70 / 1070 = 6.542 %.
        assert!((of(70.0, 1000.0) - 6.54).abs() < 0.01);
        // Traditional-gesso technical sheet: 1 oz in 1 US quart: 28.3495 / 974.7025 = 2.909 %.
        assert!((of(28.3495, 946.353) - 2.909).abs() < 0.001);
        // Watergilding instruction, 10 water to 1 glue by weight: 1 / 11 = 9.09 %.
        assert!((of(1.0, 10.0) - 9.09).abs() < 0.01);
    }

    #[test]
    fn nothing_and_impossible_strengths_have_no_answer() {
        assert_eq!(to_strength(Grams::ZERO, Grams::ZERO, 7.0), None);
        assert_eq!(to_strength(Grams::new(7.0), Grams::new(93.0), 0.0), None);
        assert_eq!(to_strength(Grams::new(7.0), Grams::new(93.0), 100.0), None);
        assert_eq!(to_strength(Grams::new(7.0), Grams::new(93.0), 7.0), Some(ToStrength::AsItIs));
        assert_eq!(parts_percent(0.0, 10.0, 0.7), None);
        assert_eq!(parts_percent(1.0, f64::INFINITY, 0.7), None);
    }

    #[test]
    fn leaves_of_unknown_weight_give_a_span() {
        // 12 leaves of 1.6 to 3.3 g (common practice, no source), 2 g best: 24 g in 376 g is 6 %; 19.2 g 4.86 %, 39.6 g 9.53 % at the ends.
        let request = GlueRequest {
            glue: input("glue", 24.0, Spread::Even(19.2, 39.6)),
            water: input("glue_water", 376.0, Spread::Exact),
            loose: input("glue_loose", 0.65, Spread::Even(0.55, 0.7)),
            parts: Some((1.0, 10.0)),
            wanted: Some(7.0),
        };
        let figures = glue_with_ranges(&request, Draws::USUAL);
        let share = figures.share.unwrap();
        assert!((share.value - 0.06).abs() < 1e-12 && share.low > 0.0486 && share.low < 0.06 && share.high < 0.0953 && share.high > 0.08);
        // To 7 %: 376 x 7 / 93 = 28.30 g of glue in all, 4.30 g more.
        assert!((figures.add_glue.unwrap().value - 4.301).abs() < 0.001);
        assert!(figures.add_water.unwrap().value.abs() < 1e-12 && figures.add_water.unwrap().high > 0.0);
        let (weight, volume) = (figures.by_weight.unwrap(), figures.by_volume.unwrap());
        // 24 g take 240 g of water by weight; by volume 24 / 0.65 = 36.9 ml take 369 ml.
        assert!((weight.water.unwrap().value - 240.0).abs() < 1e-9 && (volume.water.unwrap().value - 369.23).abs() < 0.01);
        assert!(weight.share.width().abs() < 1e-12 && volume.share.width() > 0.0);
    }

    proptest! {
        /// What is told to be added leads exactly to the strength that was wanted.
        #[test]
        fn what_is_added_leads_there(glue in 0.0f64..500.0, water in 1.0f64..5000.0, wanted in 0.5f64..40.0) {
            let (glue, water) = (Grams::new(glue), Grams::new(water));
            let after = match to_strength(glue, water, wanted).unwrap() {
                ToStrength::AsItIs => glue_percent(glue, water),
                ToStrength::Water(more) => glue_percent(glue, water + more),
                ToStrength::Glue(more) => glue_percent(glue + more, water),
            };
            prop_assert!((after.unwrap() - wanted).abs() < 0.01 * wanted.max(0.5));
        }

        /// Loose glue is lighter than water, so parts by volume are always weaker than by weight.
        #[test]
        fn by_volume_is_weaker(glue in 0.1f64..10.0, water in 0.1f64..100.0, loose in 0.3f64..0.99) {
            let (by_weight, by_volume) = parts_percent(glue, water, loose).unwrap();
            prop_assert!(by_volume < by_weight && by_volume > 0.0 && by_weight < 100.0);
        }
    }
}
