//! Check values from outside: worked by hand, exact enumeration, a public data set with the figures of general statistics libraries.

#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use proptest::prelude::*;
use statistics::{Chance, Columns, aliases, condition, correlations, inflations, information, least};

fn near(value: f64, wanted: f64, relative: f64) {
    assert!((value - wanted).abs() <= relative * wanted.abs().max(1e-300), "{value} instead of {wanted}");
}

/// Eight boards: the first setting low four times, then high four times; the second as given; the third in turn.
fn eight(second: [f64; 8]) -> Columns {
    let first = vec![-1.0, -1.0, -1.0, -1.0, 1.0, 1.0, 1.0, 1.0];
    let third = vec![-1.0, 1.0, -1.0, 1.0, -1.0, 1.0, -1.0, 1.0];
    Columns::new(vec![vec![1.0; 8], first, second.to_vec(), third]).unwrap()
}

fn settings(columns: &Columns) -> Columns {
    Columns::new(columns.iter().skip(1).map(<[f64]>::to_vec).collect()).unwrap()
}

#[test]
fn a_second_setting_that_copies_the_first() {
    let columns = eight([-1.0, -1.0, -1.0, -1.0, 1.0, 1.0, 1.0, 1.0]);
    assert_eq!(columns.rank(), 3);
    // By hand: the second less the first is nothing, whatever the board.
    assert_eq!(columns.ties(), [[0.0, -1.0, 1.0, 0.0]].map(|tie| tie.to_vec()));
    assert_eq!(inflations(&settings(&columns)).iter().filter(|v| v.is_none()).count(), 2);
    assert!(condition(&columns).is_none() && aliases(&columns, &columns).is_none());
}

#[test]
fn one_board_changed() {
    // Exact, by hand: sums of products 8, 8, 8 and 6, 0, 2; r = 6/8 over the roots of 8 and 7.5 after the means are gone.
    let columns = eight([-1.0, -1.0, -1.0, 1.0, 1.0, 1.0, 1.0, 1.0]);
    let r = correlations(&settings(&columns));
    near(r[0][1].unwrap(), 0.774_596_669_241_483_4, 1e-12);
    near(r[1][2].unwrap(), 0.258_198_889_747_161_1, 1e-12);
    let vif: Vec<f64> = inflations(&settings(&columns)).into_iter().flatten().collect();
    for (value, wanted) in vif.iter().zip([2.8, 3.0, 1.2]) {
        near(*value, wanted, 1e-12);
    }
    // |X'X|^(1/4) / 8 = 0.747674 (exact arithmetic).
    let all = information(&columns, &[0, 1, 2, 3, 4, 5, 6, 7], 0.0).unwrap();
    near((all / 4.0).exp() / 8.0, 0.747_674, 1e-6);
}

#[test]
fn one_board_changed_each_way() {
    let columns = eight([-1.0, -1.0, -1.0, 1.0, -1.0, 1.0, 1.0, 1.0]);
    near(correlations(&settings(&columns))[0][1].unwrap(), 0.5, 1e-12);
    let vif: Vec<f64> = inflations(&settings(&columns)).into_iter().flatten().collect();
    for (value, wanted) in vif.iter().zip([1.5, 2.0, 1.5]) {
        near(*value, wanted, 1e-12);
    }
    let all = information(&columns, &[0; 8], 0.0).unwrap();
    near((all / 4.0).exp() / 8.0, 0.840_896, 1e-6);
}

#[test]
fn longley() {
    // Longley 1967, JASA 62; the figures are those of statsmodels and numpy, to the digits quoted.
    let text = include_str!("longley.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let rows: Vec<Vec<f64>> = reader.records().map(|row| row.unwrap().iter().map(|x| x.parse().unwrap()).collect()).collect();
    let column = |at: usize| rows.iter().map(|row| row[at]).collect::<Vec<f64>>();
    let settings = Columns::new((1..7).map(column).collect()).unwrap();
    for (value, wanted) in inflations(&settings).into_iter().zip([135.532, 1788.513, 33.619, 3.589, 399.151, 758.981]) {
        assert!((value.unwrap() - wanted).abs() < 0.000_51, "{value:?} instead of {wanted}");
    }
    let with_constant = Columns::new(vec![vec![1.0; 16]]).unwrap().beside(&settings).unwrap();
    near(condition(&with_constant).unwrap(), 43275.04, 2e-7);
    assert_eq!(with_constant.rank(), 7);
    assert!(with_constant.ties().is_empty());
}

#[test]
fn two_by_two_in_two_sittings() {
    // Exact: X'X = 8 I for constant, two settings, their product, the sitting and both products with it; ln 8^7.
    let corner = |at: usize, bit: usize| if at >> bit & 1 == 1 { 1.0 } else { -1.0 };
    let column = |bits: &[usize]| (0..8).map(|at| bits.iter().map(|bit| corner(at, *bit)).product()).collect::<Vec<f64>>();
    let columns = [&[][..], &[0], &[1], &[0, 1], &[2], &[0, 2], &[1, 2]].map(column).to_vec();
    let seven = Columns::new(columns.clone()).unwrap();
    assert_eq!(seven.rank(), 7);
    near(information(&seven, &[0; 8], 0.0).unwrap(), 7.0 * 8f64.ln(), 1e-12);
    let five = Columns::new(columns[..5].to_vec()).unwrap();
    near(information(&five, &[0; 8], 0.0).unwrap().exp(), 32768.0, 1e-12);
    // The second setting goes with the sitting: 4 of 5.
    let moved = Columns::new([&[][..], &[0], &[2], &[0, 2], &[2]].map(column).to_vec()).unwrap();
    assert_eq!((moved.rank(), moved.ties()), (4, vec![vec![0.0, 0.0, -1.0, 0.0, 1.0]]));
}

#[test]
fn batches_of_two_in_closed_form() {
    // (8 / (1 + 2 spread))^2 x 8, by hand: constant and first column stand between batches, the second within.
    let columns = Columns::new(vec![
        vec![1.0; 8],
        vec![-1.0, -1.0, -1.0, -1.0, 1.0, 1.0, 1.0, 1.0],
        vec![-1.0, 1.0, -1.0, 1.0, -1.0, 1.0, -1.0, 1.0],
    ])
    .unwrap();
    for (spread, wanted) in [(0.0, 512.0), (1.0, 56.888_888_888_888_9), (10.0, 1.160_997_732_426_303_9)] {
        near(information(&columns, &[0, 0, 1, 1, 2, 2, 3, 3], spread).unwrap().exp(), wanted, 1e-12);
    }
    assert!(information(&columns, &[0, 0], 1.0).is_err());
    assert!(information(&columns, &[0; 8], -1.0).is_err());
}

#[test]
fn blends_in_batches() {
    // Exact enumeration of all plans: blends 0, 1/2, 1 in two batches each, -1 and 1 in every batch gives 96, 32/9, 0.01036605.
    let mut columns = vec![Vec::new(); 5];
    let mut groups = Vec::new();
    for (batch, x) in [0.0, 0.0, 0.5, 0.5, 1.0, 1.0].into_iter().enumerate() {
        for z in [-1.0, 1.0] {
            let (x1, x2) = (x, 1.0 - x);
            for (column, value) in columns.iter_mut().zip([x1, x2, x1 * x2, x1 * z, x2 * z]) {
                column.push(value);
            }
            groups.push(batch);
        }
    }
    let columns = Columns::new(columns).unwrap();
    near(information(&columns, &groups, 0.0).unwrap().exp(), 96.0, 1e-12);
    near(information(&columns, &groups, 1.0).unwrap().exp(), 32.0 / 9.0, 1e-12);
    near(information(&columns, &groups, 10.0).unwrap().exp(), 0.010_366_05, 1e-6);
}

/// Two-sided chance of one table, all tables with the same margins enumerated as counts of ways.
fn enumerated(a: u64, b: u64) -> f64 {
    fn choose(n: u64, k: u64) -> u64 {
        (0..k).fold(1, |ways, i| ways * (n - i) / (i + 1))
    }
    let mut least = 1.0f64;
    for yes in 0..=a + b {
        let ways = |x: u64| choose(a, x) * choose(b, yes - x);
        let range = yes.saturating_sub(b)..=yes.min(a);
        for x in range.clone() {
            let sum: u64 = range.clone().map(ways).filter(|other| *other <= ways(x)).sum();
            least = least.min(sum as f64 / choose(a + b, yes) as f64);
        }
    }
    least
}

#[test]
fn smallest_chances() {
    // Exact enumeration, all tables; Fisher 1935 for the rule.
    let printed = [
        (2, 2, 0.3333, 0.3333),
        (2, 3, 0.1, 0.2),
        (3, 3, 0.1, 0.1),
        (2, 4, 0.066_667, 0.1333),
        (2, 5, 0.047_619, 0.095_238),
        (3, 4, 0.028_571, 0.057_143),
        (2, 6, 0.0357, 0.0714),
        (3, 5, 0.0179, 0.0357),
        (4, 4, 0.028_571, 0.028_571),
        (5, 5, 0.007_937, 0.007_937),
        (1, 19, 0.05, 0.1),
        (1, 20, 0.0476, 0.0952),
    ];
    for (a, b, table, order) in printed {
        assert!((least::yes_no(a, b) - table).abs() < 5.1e-5, "{a} v {b}: {}", least::yes_no(a, b));
        assert!((least::ordered(a, b) - order).abs() < 5.1e-5, "{a} v {b}: {}", least::ordered(a, b));
    }
    for a in 1..9 {
        for b in 1..9 {
            near(least::yes_no(a, b), enumerated(a as u64, b as u64), 1e-9);
        }
    }
    near(least::paired(6), 0.031_25, 1e-12);
    assert!((least::yes_no(0, 4) - 1.0).abs() < 1e-12 && (least::paired(0) - 1.0).abs() < 1e-12);
}

#[test]
fn the_generator_draws_what_its_authors_draw() {
    // The sequence of the public SplitMix64 for the seed 1234567 (from memory; quoted on Rosetta Code).
    let mut chance = Chance::new(1_234_567);
    let drawn: Vec<u64> = (0..5).map(|_| chance.next_number()).collect();
    assert_eq!(
        drawn,
        [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821
        ]
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Every tie adds to nothing, there are as many as columns beyond the rank, and none has an idle member.
    #[test]
    fn ties_are_ties(cells in proptest::collection::vec(-1i32..=1, 6 * 5)) {
        let columns: Vec<Vec<f64>> = cells.chunks(6).map(|c| c.iter().map(|x| f64::from(*x)).collect()).collect();
        let columns = Columns::new(columns).unwrap();
        let ties = columns.ties();
        prop_assert_eq!(ties.len(), columns.count() - columns.rank());
        for tie in &ties {
            for row in 0..columns.rows() {
                let sum: f64 = tie.iter().zip(columns.iter()).map(|(c, column)| c * column[row]).sum();
                prop_assert!(sum.abs() < 1e-9);
            }
            let members: Vec<Vec<f64>> = tie.iter().zip(columns.iter()).filter(|(c, _)| c.abs() > 0.0).map(|(_, x)| x.to_vec()).collect();
            for left_out in 0..members.len() {
                let rest: Vec<Vec<f64>> = members.iter().enumerate().filter(|(at, _)| *at != left_out).map(|(_, x)| x.clone()).collect();
                let count = rest.len();
                prop_assert_eq!(Columns::new(rest).unwrap().rank(), count);
            }
        }
    }

    /// A shuffle loses and doubles nothing, and the same seed repeats it.
    #[test]
    fn shuffles_are_permutations(seed: u64, length in 0usize..40) {
        let shuffled = |seed| { let mut list: Vec<usize> = (0..length).collect(); Chance::new(seed).shuffle(&mut list); list };
        let mut sorted = shuffled(seed);
        prop_assert_eq!(&sorted, &shuffled(seed));
        sorted.sort_unstable();
        prop_assert_eq!(sorted, (0..length).collect::<Vec<_>>());
    }
}
