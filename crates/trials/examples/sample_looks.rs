//! Prints the looks due for many last coats as CSV, `last_coat,look,day`: the first and the last days of each month of five years, and
//! every day around the end of February. Another calendar library is asked the same, see `reference/`.

use std::io::Write;

use trials::looks::{Day, due};

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "last_coat,look,day")?;
    let days = |month: u8| if month == 2 { 1..=29_u8 } else { 27..=31 };
    let dates = (2023..=2028_u16).flat_map(|year| (1..=12_u8).flat_map(move |month| days(month).map(move |day| (year, month, day))));
    for last_coat in dates.filter_map(|(year, month, day)| Day::new(year, month, day).ok()) {
        for look in due(last_coat, 6) {
            writeln!(out, "{},{},{}", written(last_coat), look.id, written(look.day))?;
        }
    }
    Ok(())
}

fn written(day: Day) -> String {
    let (year, month, day) = day.parts();
    format!("{year:04}-{month:02}-{day:02}")
}
