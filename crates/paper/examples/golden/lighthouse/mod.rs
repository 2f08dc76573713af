//! Invented views: the workshop of an old lighthouse prepares small panels for a tide calendar. No board of these was ever laid.

pub(crate) mod day_sheets;
pub(crate) mod odd;
pub(crate) mod sheets;
pub(crate) mod study;

use show::paper::Day;

const MADE_WITH: &str = "made with groundproof 0.1.0, data 2026-01";

/// The boards in the order of laying: mark, recipe, why lost.
const BOARDS: [(&str, &str, &str); 12] = [
    ("GP-7K3M-Q2X", "less glue", ""),
    ("GP-4T9R-H8C", "usual glue, the ground compared with", ""),
    ("GP-2W6N-J5P", "more glue", ""),
    ("GP-9D1F-K7V", "usual glue, the ground compared with", ""),
    ("GP-3X8B-L4S", "more glue", ""),
    ("GP-6Q5Z-M1G", "less glue", "fell face down on the stove before the first reading"),
    ("GP-8H2J-N9T", "more glue", ""),
    ("GP-1R7V-P3D", "less glue", ""),
    ("GP-5C4K-R6W", "usual glue, the ground compared with", ""),
    ("GP-7N9X-S2B", "less glue", ""),
    ("GP-4F1M-T8Q", "usual glue, the ground compared with", "warped by a leak in the lamp room"),
    ("GP-2Z6H-V5J", "more glue", ""),
];

fn words(each: &[&str]) -> Vec<String> {
    each.iter().map(|&one| one.into()).collect()
}

fn day() -> Day {
    Day::new(2026, 3, 14).unwrap_or_else(|| unreachable!("the fourteenth of March"))
}
