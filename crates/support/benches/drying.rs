//! How long the times of one board take with all their draws; printed by `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, reason = "a bench that can't start has nothing to say")]

use divan::Bencher;
use measure::{Celsius, GramsPerMillilitre, GramsPerSquareMetre, MetresPerSecond, Millimetres, RelativeHumidity, Share};
use support::{
    Air, Back, CoatAsked, DRYING_DRAWS, Draught, DryingAsked, Face, GroundKind, OpenFaces, Reading, WetBoard, drying_spans, evaporation,
};

fn main() {
    divan::main();
}

/// A panel of the tide calendar, its back free.
fn asked(face: Face) -> DryingAsked {
    DryingAsked {
        warmth: Some(Reading { value: Celsius::new(18.0), within: Celsius::new(1.0) }),
        damp: Some(Reading { value: RelativeHumidity::new(62.0), within: RelativeHumidity::new(5.0) }),
        draught: Draught::Room,
        length: Millimetres::new(200.0),
        width: Millimetres::new(250.0),
        thickness: Millimetres::new(6.0),
        open: OpenFaces::Both,
        back: Back::Free,
        face,
        coat: CoatAsked {
            laid: Reading { value: GramsPerSquareMetre::new(210.0), within: GramsPerSquareMetre::new(10.0) },
            density: GramsPerMillilitre::new(1.6),
            solids: Share::new(0.35),
            packing: None,
        },
        ground: GroundKind::Glue,
    }
}

#[divan::bench]
fn one_sized_board(bencher: Bencher<'_, '_>) {
    let asked = asked(Face::Sized);
    bencher.bench_local(|| drying_spans(&asked, DRYING_DRAWS).unwrap());
}

#[divan::bench]
fn one_bare_board(bencher: Bencher<'_, '_>) {
    let asked = asked(Face::Bare);
    bencher.bench_local(|| drying_spans(&asked, DRYING_DRAWS).unwrap());
}

#[divan::bench]
fn one_balance(bencher: Bencher<'_, '_>) {
    let air = Air::new(Celsius::new(18.0), RelativeHumidity::new(62.0)).unwrap();
    let board = WetBoard::new(Millimetres::new(200.0), Millimetres::new(250.0), Millimetres::new(6.0), Back::Free).unwrap();
    bencher.bench_local(|| evaporation(&air, MetresPerSecond::new(0.12), &board).unwrap());
}
