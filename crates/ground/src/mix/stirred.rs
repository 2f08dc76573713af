//! Curd with grains left in it, and powder with lumps: both pack looser than a rubbed paste.

use measure::{Input, InputKey, Spread};

use super::Mix;
use super::registry::Registry;
use super::registry::Slot;

/// Name of the unknown: how much of the curd is dissolved.
const CURD: &str = "curd_grains";
/// Name of the unknown: how tightly a pot with lumps packs.
const PACKING: &str = "packing";
/// Least share of curd that is dissolved before anybody strained it, and what is taken once grains are seen (model choices).
const UNSTRAINED: f64 = 0.7;
const GRAINY: (f64, f64, f64) = (0.85, 0.6, 1.0);
/// Critical share of a pot with lumps beside that of a rubbed paste (model choice).
const LUMPY: (f64, f64, f64) = (0.9, 0.8, 1.0);

/// The unknown that curd brings along.
pub(super) fn curd(known: &mut Registry) -> Slot {
    known.slot(Input {
        key: InputKey::new(CURD),
        plain: "how much of the curd is dissolved, without grains".into(),
        best: 1.0,
        spread: Spread::Even(UNSTRAINED, 1.0),
        unit: "1",
        source: "binder that is not dissolved fills gaps worse (binder index, Patton 1979, from memory); range a model choice".into(),
    })
}

impl Mix {
    /// Whether curd is in it, which may have grains left.
    pub fn has_curd(&self) -> bool {
        self.dissolved.is_some()
    }

    /// The same pot once it is known whether its curd was strained until no grain was left, and whether there are lumps of powder in it.
    #[must_use]
    pub fn as_stirred(mut self, strained: Option<bool>, lumps: Option<bool>) -> Self {
        if let (Some(strained), Some(input)) = (strained, self.inputs.iter_mut().find(|input| input.key.as_str() == CURD)) {
            let (best, spread) = if strained { (1.0, Spread::Exact) } else { (GRAINY.0, Spread::Even(GRAINY.1, GRAINY.2)) };
            (input.best, input.spread) = (best, spread);
        }
        if lumps == Some(true) && self.packing.is_none() {
            self.packing = Some(Slot::at(self.inputs.len()));
            self.inputs.push(Input {
                key: InputKey::new(PACKING),
                plain: "how tightly powder with lumps packs, beside a rubbed paste".into(),
                best: LUMPY.0,
                spread: Spread::Even(LUMPY.1, LUMPY.2),
                unit: "1",
                source: "a pot with lumps packs looser than a rubbed paste: model choice".into(),
            });
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use crate::{Coat, Drawn, Mix, film_with_ranges};
    use materials::{Catalogue, Wishes, read};
    use measure::{Draws, Figure, Units};

    fn mix(told: &str) -> Mix {
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        Mix::of(jars, &units, &read(jars, &units, told, &Wishes::new()))
    }

    fn place(mix: &Mix) -> Figure {
        film_with_ranges(mix, Coat::USUAL, &Drawn::of(mix, Draws::USUAL)).unwrap().lambda()
    }

    const CURD: &str = "130 g drained curd, 250 g natural chalk, 60 g water";

    #[test]
    fn curd_that_was_not_strained_widens_the_bar() {
        let (asked, strained, grainy) = (mix(CURD), mix(CURD).as_stirred(Some(true), None), mix(CURD).as_stirred(Some(false), None));
        assert!(asked.has_curd() && !mix("100 g chalk, 10 g casein powder, 100 g water").has_curd());
        let [asked, strained, grainy] = [asked, strained, grainy].map(|mix| place(&mix));
        // Grains left fill gaps worse: the ground is leaner than its sums say, never richer.
        assert!((asked.value - strained.value).abs() < 1e-9 && asked.width() > strained.width() && asked.high > strained.high);
        // By hand: 1 / (1 + 0.52161 / 0.85) = 0.6197 beside 0.6572: 1.0605 times as far along.
        assert!((grainy.value / strained.value - 1.0605).abs() < 1e-3);
    }

    #[test]
    fn lumps_loosen_a_pot() {
        let smooth = mix("100 g chalk, 10 g hide glue, 100 g water");
        let lumpy = smooth.clone().as_stirred(None, Some(true));
        assert!((place(&lumpy).value * 0.9 - place(&smooth).value).abs() < 1e-9);
        assert_eq!(smooth.clone().as_stirred(None, Some(false)).inputs(), smooth.inputs());
    }

    #[test]
    fn acrylic_medium_packs_as_a_dispersion() {
        // By hand: the critical share of chalk, 0.6572, with a binder index of 0.7 is 0.5730.
        for told in ["40 g of 45 % acrylic medium", "40 g 45% acrylic medium"] {
            let mix = mix(&format!("100 g natural chalk, {told}, 20 g water"));
            let film = mix.film(&mix.best(), &mut Vec::new());
            assert!(film.is_ok_and(|film| (film.cpvc - 0.5730).abs() < 5e-4), "{told} {:?} {:?}", mix.left_out, film);
        }
    }
}
