//! Kitchen weights beside what was published or follows from masses.
#![expect(clippy::unwrap_used, reason = "a test: a panic is the report")]

use materials::{Catalogue, MaterialId};

fn loose(id: &str) -> (f64, f64, f64) {
    let jars = Catalogue::builtin().unwrap();
    let property = jars.material(&MaterialId::new(id)).unwrap().property("bulk_density").unwrap();
    let (low, high) = property.range.unwrap();
    (low, property.value, high)
}

#[test]
fn borax_is_poured_as_its_suppliers_say() {
    // 1 lb = 453.59237 g and 1 ft = 30.48 cm by definition, so 1 lb/ft3 = 453.59237 / 28316.846592 = 0.0160185 g/ml. A supplier's 48 lb/ft3
    // is 0.769 g/ml; bulk-material tables have 0.849 and 0.881 (55 lb/ft3).
    let pound_in_a_cubic_foot = 453.592_37 / 30.48f64.powi(3);
    let (supplier, table) = (48.0 * pound_in_a_cubic_foot, 55.0 * pound_in_a_cubic_foot);
    assert!((supplier - 0.769).abs() < 0.001 && (table - 0.881).abs() < 0.001);
    let (low, best, high) = loose("borax");
    assert!((low - supplier).abs() < 0.005 && (high - table).abs() < 0.005 && low < best && best < high);
}

#[test]
fn pressed_curd_weighs_what_water_and_casein_weigh() {
    // By hand: a gram of curd is 0.6 g water of 1.0 and 0.4 g casein of 1.26 g/ml: 1 / (0.6 + 0.31746) = 1.090 g/ml. Lumps hold a little air.
    let (low, best, high) = loose("curd-pressed");
    let solid = 1.090;
    assert!(best <= solid && solid <= high && low < best && (best - solid).abs() < 0.02);
    let dry = binder::BinderBook::builtin().unwrap().constant("density.casein_dry").unwrap().value;
    assert!((1.0 / (0.6 / 1.0 + 0.4 / dry) - solid).abs() < 0.001);
}
