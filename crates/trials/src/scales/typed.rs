//! What a painter types into the field of a scale.

use super::model::{Kind, Scale, ScaleId};
use super::number::number;
use super::wording::{LONGEST, counted, factor_of, parts, split_at_dash, tidy, with_unit};
use super::{ReadingValue, ScaleBook};

/// What was typed, understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    /// The reading on the scale asked.
    pub value: ReadingValue,
    /// Readings on the scales beside it: size and depth out of `2(S3)b`.
    pub beside: Vec<(ScaleId, ReadingValue)>,
}

/// What was typed can't be a reading of this scale.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{typed}` can't be read for \"{scale}\": {why}. Right would be {right}")]
pub struct TypedError {
    /// What was typed, cut short.
    pub typed: String,
    /// The painter's name of the scale.
    pub scale: String,
    /// What is wrong.
    pub why: String,
    /// What would be right.
    pub right: String,
}

impl ScaleBook {
    /// Reads what was typed for one of the book's scales, size and depth included: `2(S3)b`.
    ///
    /// # Errors
    /// As [`Scale::read`].
    ///
    /// ```
    /// use trials::scales::{ReadingValue::Exact, ScaleBook, ScaleId};
    /// let book = ScaleBook::builtin()?;
    /// let cracking = book.scale(&ScaleId::new("cracking")).ok_or("missing")?;
    /// let typed = book.read(cracking, "2(S3)b")?;
    /// assert_eq!(typed.value, Exact(2.0));
    /// assert_eq!(typed.beside, [(ScaleId::new("crack_width"), Exact(3.0)), (ScaleId::new("crack_depth"), Exact(2.0))]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn read(&self, scale: &Scale, typed: &str) -> Result<Typed, TypedError> {
        let text = tidy(typed);
        let Some((main, size, depth)) = parts(&text).filter(|_| !scale.beside.is_empty()) else {
            return Ok(Typed { value: scale.read(typed)?, beside: Vec::new() });
        };
        let again = |error: TypedError| TypedError { typed: short(typed), ..error };
        let value = scale.read(main).map_err(again)?;
        let mut beside = Vec::new();
        let mut places = scale.beside.iter();
        for part in [size, depth].into_iter().filter(|part| !part.is_empty()) {
            let other = places.next().and_then(|id| self.scale(id)).ok_or_else(|| scale.refuse(typed, "it has no depth"))?;
            beside.push((other.id.clone(), other.read(part).map_err(again)?));
        }
        Ok(Typed { value, beside })
    }
}

impl Scale {
    /// Reads what was typed for this scale alone: `2`, `2.5`, `2,5`, `2½`, `>600`, `over 600`, `600+`, `under 3`, `3..7`, `3 to 7`,
    /// `between 3 and 7`, `5 of 25`, `3 %`, `4A`, `yes`, `no`, `none`.
    ///
    /// # Errors
    /// Empty, no reading, outside the scale, or between its steps; the error says what would be right.
    ///
    /// ```
    /// use trials::scales::{ReadingValue, ScaleBook, ScaleId};
    /// let book = ScaleBook::builtin()?;
    /// let drop = book.scale(&ScaleId::new("drop_time")).ok_or("missing")?;
    /// assert_eq!(drop.read("over 10 min")?, ReadingValue::Above(600.0));
    /// assert!(drop.read("a while").unwrap_err().to_string().contains("`45`"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn read(&self, typed: &str) -> Result<ReadingValue, TypedError> {
        let text = tidy(typed);
        let refuse = |why: &str| self.refuse(typed, why);
        if text.is_empty() {
            return Err(refuse("nothing is written; leave the reading out if there is none"));
        }
        if text.chars().count() > LONGEST {
            return Err(refuse("it is too long for a reading"));
        }
        if self.kind == Kind::YesNo {
            return match text.as_str() {
                "yes" | "y" | "1" | "true" => Ok(ReadingValue::Yes),
                "no" | "n" | "0" | "none" | "false" => Ok(ReadingValue::No),
                _ => Err(refuse("it is neither yes nor no")),
            };
        }
        if let (Some(none), "none" | "no" | "nothing") = (self.none, text.as_str()) {
            return Ok(none);
        }
        if let Some((lost, of)) = counted(&text) {
            return self.class_of_count(lost, of).map_err(|why| refuse(&why));
        }
        if let Some((_, unit)) = &self.limits
            && let Some(measured) = with_unit(&text, unit)
        {
            let class = self.class_of(measured).ok_or_else(|| refuse("it is less than nothing"))?;
            if unit == "%" && measured > 100.0 {
                return Err(refuse("more than the whole can't be gone"));
            }
            return Ok(ReadingValue::Exact(class.value));
        }
        let value = self.number_words(&text).map_err(|why| refuse(&why))?;
        self.check(value).map_err(|why| refuse(&why))?;
        Ok(value)
    }

    /// `5 of 25`.
    fn class_of_count(&self, lost: f64, of: f64) -> Result<ReadingValue, String> {
        let whole = |value: f64| value >= 0.0 && value.fract().abs() < 1e-9;
        if self.limits.as_ref().is_none_or(|(_, unit)| unit != "%") {
            return Err("this scale doesn't count squares".to_owned());
        }
        if !whole(lost) || !whole(of) || of < 1.0 || lost > of {
            return Err("so many of so many can't be".to_owned());
        }
        let class = self.class_of(100.0 * lost / of).ok_or("so many of so many can't be")?;
        Ok(ReadingValue::Exact(class.value))
    }

    /// A number, an open end, or two ends.
    fn number_words(&self, text: &str) -> Result<ReadingValue, String> {
        const OVER: [&str; 6] = [">", "over ", "above ", "more than ", "longer than ", "after "];
        const UNDER: [&str; 6] = ["<", "under ", "below ", "less than ", "shorter than ", "before "];
        let after = |starts: &[&str]| starts.iter().find_map(|start| text.strip_prefix(start));
        if text.starts_with(">=") || text.starts_with("<=") {
            return Err("say more than, less than or between".to_owned());
        }
        if let Some(rest) = after(&OVER).or_else(|| text.strip_suffix('+')) {
            return self.plain(rest).map(ReadingValue::Above);
        }
        if let Some(rest) = after(&UNDER) {
            return self.plain(rest).map(ReadingValue::Below);
        }
        let ends = match text.strip_prefix("between ") {
            Some(rest) => Some(rest.split_once(" and ").ok_or("the second end is missing")?),
            None => text.split_once("..").or_else(|| text.split_once(" to ")).or_else(|| split_at_dash(text)),
        };
        let Some((low, behind)) = ends else {
            return self.plain(text).map(ReadingValue::Exact);
        };
        let high = self.plain(behind)?;
        // "2 to 3 min": the unit behind counts for both.
        let low = match number(low.trim()) {
            Some(bare) => bare * self.unit_behind(behind),
            None => self.plain(low)?,
        };
        ReadingValue::between(low, high).ok_or_else(|| "the larger number stands first".to_owned())
    }

    /// How many of the scale's unit the unit behind a number is; 1 when there is none.
    fn unit_behind(&self, text: &str) -> f64 {
        let word = text.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter.is_whitespace() || letter == '.').trim();
        factor_of(word, &self.unit).unwrap_or(1.0)
    }

    /// One number, with or without the scale's unit, or the mark of a class.
    fn plain(&self, text: &str) -> Result<f64, String> {
        let text = text.trim();
        let text = if self.unit == "pH" { text.strip_prefix("ph").unwrap_or(text).trim() } else { text };
        let marked = || self.classes.iter().find(|class| !class.mark.is_empty() && class.mark.to_lowercase() == text);
        if let Some(value) = number(text).or_else(|| with_unit(text, &self.unit)).or_else(|| marked().map(|class| class.value)) {
            return Ok(value);
        }
        if self.unit == "s"
            && let Some((minutes, seconds)) = text.split_once(':')
            && let (Some(minutes), Some(seconds)) = (number(minutes), number(seconds))
            && (0.0..60.0).contains(&seconds)
        {
            return Ok(minutes * 60.0 + seconds);
        }
        Err(if text.contains(',') { "the comma could be a decimal or not" } else { "it is no number" }.to_owned())
    }

    fn check(&self, value: ReadingValue) -> Result<(), String> {
        if Some(value) == self.none {
            return Ok(());
        }
        let (low, high) = value.range();
        for end in [low, high].into_iter().filter(|end| end.is_finite()) {
            if end < self.low || end > self.high {
                return Err(format!("the scale goes from {} to {}", self.low, self.high));
            }
            if let Some(step) = self.step
                && ((end / step).round() - end / step).abs() > 1e-9
            {
                return Err(if step < 1.0 { "only halves lie between its numbers" } else { "nothing lies between its numbers" }.to_owned());
            }
        }
        let nothing_left = match value {
            ReadingValue::Above(least) => least >= self.high,
            ReadingValue::Below(most) => most <= self.low,
            _ => false,
        };
        if nothing_left { Err("nothing on the scale is left beyond it".to_owned()) } else { Ok(()) }
    }

    fn refuse(&self, typed: &str, why: &str) -> TypedError {
        TypedError { typed: short(typed), scale: self.name.clone(), why: why.to_owned(), right: self.right() }
    }

    /// Examples of what would be right.
    fn right(&self) -> String {
        let unit = if self.unit.is_empty() { String::new() } else { format!(" (in {})", self.unit) };
        let main = match self.kind {
            Kind::YesNo => return "`yes` or `no`".to_owned(),
            Kind::Class if self.step.is_some_and(|step| step < 1.0) => format!("{} to {}, with halves such as `2.5`", self.low, self.high),
            Kind::Class | Kind::Count => format!("a whole number from {} to {}", self.low, self.high),
            Kind::Time => format!("`45`, `>600` or `30..60`{unit}"),
            _ => format!("a number from {} to {}, or `3..7`{unit}", self.low, self.high),
        };
        let mut marks = self.classes.iter().map(|class| class.mark.as_str()).filter(|mark| !mark.is_empty());
        let marks = marks.next().zip(marks.next_back()).map(|(first, last)| format!("`{first}` to `{last}`"));
        let measured = self.limits.as_ref().map(|(_, unit)| match unit.as_str() {
            "%" => "`3 of 25`".to_owned(),
            unit => format!("a measure such as `0.3 {unit}`"),
        });
        let none = self.none.map(|_| "`none`".to_owned());
        [Some(main), marks, measured, none].into_iter().flatten().collect::<Vec<_>>().join(", or ")
    }
}

fn short(typed: &str) -> String {
    let typed = typed.trim();
    let mut cut: String = typed.chars().take(40).collect();
    if typed.chars().nth(40).is_some() {
        cut.push('…');
    }
    cut
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::ReadingValue::{Above, Below, Between, Exact, No, Yes};
    use super::*;

    fn book() -> &'static ScaleBook {
        ScaleBook::builtin().unwrap()
    }

    fn scale(id: &str) -> &'static Scale {
        book().scale(&ScaleId::new(id)).unwrap()
    }

    #[test]
    fn what_painters_write_is_understood() {
        for (id, typed, wanted) in [
            ("cracking", "2", Exact(2.0)),
            ("cracking", "2.5", Exact(2.5)),
            ("cracking", "2,5", Exact(2.5)),
            ("cracking", "2½", Exact(2.5)),
            ("cracking", "2 1/2", Exact(2.5)),
            ("cracking", "none", Exact(0.0)),
            ("cracking", "2-3", Between(2.0, 3.0)),
            ("cracking", "over 3", Above(3.0)),
            ("crack_width", "0.3 mm", Exact(3.0)),
            ("crack_width", "300 µm", Exact(3.0)),
            ("crack_depth", "b", Exact(2.0)),
            ("cracked", "Yes", Yes),
            ("cracked", "none", No),
            ("drop_time", ">600", Above(600.0)),
            ("drop_time", "over 600", Above(600.0)),
            ("drop_time", "600+", Above(600.0)),
            ("drop_time", "more than 10 min", Above(600.0)),
            ("drop_time", "1 min 30 s", Exact(90.0)),
            ("drop_time", "1:30", Exact(90.0)),
            ("drop_time", "45s", Exact(45.0)),
            ("drop_time", "3..7", Between(3.0, 7.0)),
            ("drop_time", "between 3 and 7", Between(3.0, 7.0)),
            ("drop_time", "3 – 7", Between(3.0, 7.0)),
            ("drop_time", "2 to 3 min", Between(120.0, 180.0)),
            ("drop_time", "< 0,5", Below(0.5)),
            ("drop_time", "0,125", Exact(0.125)),
            ("cross_cut", "5 of 25", Exact(3.0)),
            ("cross_cut", "5 out of 25 squares", Exact(3.0)),
            ("cross_cut", "1/25", Exact(1.0)),
            ("cross_cut", "4B", Exact(1.0)),
            ("cross_cut", "2", Exact(2.0)),
            ("cross_cut", "none", Exact(0.0)),
            ("x_cut", "4A", Exact(4.0)),
            ("x_cut", "0a", Exact(0.0)),
            ("flaking", "3 %", Exact(4.0)),
            ("pencil", "HB", Exact(10.0)),
            ("pencil", "between HB and 2H", Between(10.0, 13.0)),
            ("x_cut", "3A-4A", Between(3.0, 4.0)),
            ("surface_ph", "pH 8,5", Exact(8.5)),
            ("bend", "0.2..0.5 %", Between(0.2, 0.5)),
            ("first_cracked_strip", "none", Above(5.0)),
            ("first_cracked_strip", "4", Exact(4.0)),
            ("thumb_nail", "1", Exact(1.0)),
            ("dry_thickness", "0.3 mm", Exact(300.0)),
        ] {
            assert_eq!(scale(id).read(typed), Ok(wanted), "{id}: {typed}");
        }
    }

    #[test]
    fn what_cannot_be_is_refused_with_what_would_be_right() {
        for (id, typed, why, right) in [
            ("cracking", "6", "from 0 to 5", "0 to 5, with halves"),
            ("cracking", "2.3", "only halves", "`2.5`"),
            ("cracking", "bad", "no number", "`none`"),
            ("cracking", "", "nothing is written", "0 to 5"),
            ("cracking", "over 5", "nothing on the scale is left", "0 to 5"),
            ("cracking", "3 of 25", "doesn't count squares", "0 to 5"),
            ("cross_cut", "2.5", "nothing lies between", "`3 of 25`"),
            ("cross_cut", "26 of 25", "can't be", "`3 of 25`"),
            ("cross_cut", "0 of 0", "can't be", "`3 of 25`"),
            ("cross_cut", "2.5 of 25", "can't be", "`3 of 25`"),
            ("x_cut", "6A", "no number", "`5A` to `0A`"),
            ("flaking", "130 %", "more than the whole", "0 to 5"),
            ("cracked", "perhaps", "neither yes nor no", "`yes` or `no`"),
            ("drop_time", "a while", "no number", "`>600`"),
            ("drop_time", "7..3", "larger number stands first", "`30..60`"),
            ("drop_time", "between 3", "second end", "`30..60`"),
            ("drop_time", "-4", "from 0", "in s"),
            ("drop_time", "1,000", "comma", "in s"),
            ("drop_time", ">=5", "more than", "in s"),
            ("drop_time", "5 mm", "no number", "in s"),
            ("drop_time", "none", "no number", "in s"),
            ("pencil", "21", "from 1 to 20", "`9B` to `9H`"),
            ("first_cracked_strip", "0", "from 1 to 5", "`none`"),
        ] {
            let said = scale(id).read(typed).unwrap_err();
            assert!(said.why.contains(why) && said.right.contains(right), "{id}: {said}");
        }
        let long = scale("cracking").read(&"crack ".repeat(50)).unwrap_err().to_string();
        assert!(long.contains("too long") && long.chars().count() < 250, "{long}");
    }

    #[test]
    fn size_and_depth_are_read_beside_the_number() {
        let read = |id: &str, typed: &str| book().read(scale(id), typed);
        let beside =
            |typed: Typed| typed.beside.iter().map(|(id, value)| format!("{} {}", id.as_str(), value.to_cell())).collect::<Vec<_>>();
        assert_eq!(beside(read("blistering", "2(S3)").unwrap()), ["blister_size 3"]);
        assert_eq!(beside(read("cracking", "2,5 (s4) c").unwrap()), ["crack_width 4", "crack_depth 3"]);
        assert_eq!(beside(read("flaking", "1(S2)a").unwrap()), ["flake_size 2", "flake_depth 1"]);
        assert!(beside(read("cracking", "2").unwrap()).is_empty());
        for (id, typed) in
            [("blistering", "2(S9)"), ("blistering", "2(S3)b"), ("finger_rub", "2(S3)"), ("cracking", "2(3)"), ("cracking", "7(S3)")]
        {
            assert!(read(id, typed).is_err(), "{id}: {typed}");
        }
    }

    proptest! {
        #[test]
        fn nothing_that_is_typed_breaks_the_reader(typed in ".*") {
            for scale in book().scales() {
                let _ = book().read(scale, &typed);
            }
        }

        #[test]
        fn near_misses_do_not_break_it_either(typed in "[0-9<>=.,:/ ()sabmin+½%–-]{0,14}") {
            for scale in book().scales() {
                if let Ok(read) = book().read(scale, &typed) {
                    let cell = read.value.to_cell();
                    prop_assert_eq!(ReadingValue::from_cell(&cell, scale.kind), Ok(Some(read.value)), "{} {}", typed, cell);
                }
            }
        }

        #[test]
        fn what_is_written_is_read_again(low in 0_u32..800, more in 1_u32..800, open in 0_u8..4) {
            let (a, b) = (f64::from(low) / 8.0, f64::from(low + more) / 8.0);
            let value = match open { 0 => Exact(a), 1 => Above(a), 2 => Below(b), _ => Between(a, b) };
            prop_assert_eq!(scale("drop_time").read(&value.to_cell()), Ok(value));
        }
    }
}
