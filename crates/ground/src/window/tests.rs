use std::sync::OnceLock;

use super::*;
use crate::crack_chance::crack_chance;
use crate::{Coat, Drawn, Mix, film_with_ranges};
use materials::{Catalogue, Wishes, read};
use measure::{Draws, Units};
use proptest::prelude::*;

fn ranges(told: &str) -> FilmRanges {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let mix = Mix::of(jars, &units, &read(jars, &units, told, &Wishes::new()));
    film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, Draws { seed: 3, count: 500 })).unwrap()
}

const CASEIN: &str = "100 g chalk, 20 g casein powder, 300 g water";
const ON: (Protein, &str) = (Protein::Casein, "plywood");

/// Casein and chalk, read and drawn once for all cases.
fn casein() -> &'static (FilmRanges, Vec<Draw>) {
    static ONCE: OnceLock<(FilmRanges, Vec<Draw>)> = OnceLock::new();
    ONCE.get_or_init(|| {
        let (book, ranges) = (FilmBook::builtin().unwrap(), ranges(CASEIN));
        let draws = drawn(book, &ranges, ON, &inputs(book, ON.0, ON.1).unwrap(), COLUMN_DRAWS).unwrap();
        (ranges, draws)
    })
}

fn of_casein() -> &'static Window {
    static ONCE: OnceLock<Window> = OnceLock::new();
    ONCE.get_or_init(|| window(FilmBook::builtin().unwrap(), &casein().0, ON, 80.0, None, &Lesson::NONE).unwrap().unwrap())
}

/// By hand: powder share 0.6572 of chalk (2.71 g/ml) in casein (1.26 g/ml): 0.3428 / 0.6572 x 1.26 / 2.71 x 100 g = 24.25 g.
#[test]
fn the_critical_share_in_grams_by_hand() {
    let at = binder_at(&casein().0, 1.0).unwrap();
    assert!((at - 24.25).abs() < 0.05, "{at}");
    assert_eq!(binder_at(&casein().0, 1.5), None, "a powder share of 0.99 is no film");
}

#[test]
fn nothing_lies_outside_what_is_said() {
    for column in &of_casein().columns {
        assert!(column.unlikely_below <= THICKEST && column.likely_from.is_none_or(|from| from <= THICKEST));
        assert!(column.likely_from.is_none_or(|from| from >= column.unlikely_below), "{column:?}");
        assert_eq!(column.near_critical, NEAR_CRITICAL.contains(&column.ratio));
        assert!(column.binder <= 80.0 + 1e-9 && column.ratio * 0.6572 < 0.94);
    }
    let window = of_casein();
    assert!(window.columns.iter().filter(|column| column.near_critical).count() > 1, "the doubtful band is wide enough to be drawn");
    assert!(window.beyond < 0.01);
    let on_canvas = window_on("canvas");
    assert!(on_canvas.beyond > 0.05, "{}", on_canvas.beyond);
}

fn window_on(support: &str) -> Window {
    window(FilmBook::builtin().unwrap(), &casein().0, (Protein::Casein, support), 80.0, None, &Lesson::NONE).unwrap().unwrap()
}

/// Common practice, no source, and the constants were chosen so that it holds: lean to the left stays whole at any thickness that is
/// drawn, rich to the right cracks when it is thick.
#[test]
fn lean_holds_and_rich_cracks() {
    let columns = &of_casein().columns;
    let (lean, rich) = (columns.first().unwrap(), columns.last().unwrap());
    assert!(lean.unlikely_below == THICKEST && lean.likely_from.is_none(), "{lean:?}");
    assert!(rich.unlikely_below.value() < 200.0 && rich.likely_from.is_some_and(|from| from.value() < 600.0), "{rich:?}");
}

/// The column of a weighed recipe says what the card says of it.
#[test]
fn a_column_agrees_with_the_card() {
    let book = FilmBook::builtin().unwrap();
    let ranges = ranges("100 g chalk, 40 g casein powder, 300 g water");
    let card = crack_chance(book, &ranges, ON, 4, None, &Lesson::NONE).unwrap().unwrap();
    let shifts = critical_band(book, &ranges, None).unwrap();
    let draws = drawn(book, &ranges, ON, &inputs(book, ON.0, ON.1).unwrap(), COLUMN_DRAWS).unwrap();
    let (limits, _) = Limits::of(&draws, ranges.best.binder_per_100_powder, shifts, &Lesson::NONE);
    let column = limits.chance(4.0 * ranges.dry().value);
    assert!((column.value - card.all_coats.value).abs() < 0.03, "{column:?} {:?}", card.all_coats);
}

#[test]
fn what_boards_taught_moves_the_bands() {
    let book = FilmBook::builtin().unwrap();
    let lesson = Lesson { times: 0.5, spread: 1.0 };
    let moved = window(book, &casein().0, ON, 80.0, None, &lesson).unwrap().unwrap();
    let (before, after) = (of_casein().columns.last().unwrap(), moved.columns.last().unwrap());
    assert!((after.unlikely_below.value() / before.unlikely_below.value() - 0.5).abs() < 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn thicker_is_never_less_likely_to_crack(binder in 3.0f64..90.0, thin in 1.0f64..1000.0, more in 0.0f64..1000.0) {
        let (limits, _) = Limits::of(&casein().1, binder, [0.0, -0.03, 0.03], &Lesson::NONE);
        let (thin, thick) = (limits.chance(thin), limits.chance(thin + more));
        prop_assert!(thin.value <= thick.value && thin.low <= thick.low && thin.high <= thick.high);
        prop_assert!(thin.low <= thin.value && thin.value <= thin.high);
    }

    #[test]
    fn the_chance_does_not_jump_at_the_critical_share(thickness in 30.0f64..1000.0) {
        let (ranges, draws) = casein();
        let at = binder_at(ranges, 1.0).unwrap();
        let chance = |binder: f64| Limits::of(draws, binder, [0.0; 3], &Lesson::NONE).0.chance(thickness).value;
        prop_assert!((chance(at - 1e-6) - chance(at + 1e-6)).abs() < 0.005);
    }
}
