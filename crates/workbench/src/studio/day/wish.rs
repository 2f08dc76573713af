//! What a painter wishes of a day: hours, small pots, what stays for another day. The same words stand in addresses and forms.

use making::{Clock, DayAsked, Mixed, Way};
use notebook::Day;

use super::super::{StudioError, day, short};
use super::{Hours, TypedHours};
use crate::and;

/// A day as wished for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedWish {
    /// From when to when.
    pub hours: TypedHours,
    /// Letters of pots that are mixed anew for each coat: `A B`.
    pub small: String,
    /// Letters of pots that are laid on another day.
    pub leave: String,
    /// Numbers of boards that are left out.
    pub without: String,
    /// The day of the calendar, such as `2026-11-28`; empty if that does not matter.
    pub on: String,
}

/// A wish that can be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Wish {
    pub(crate) hours: Hours,
    pub(crate) small: Vec<String>,
    pub(crate) leave: Vec<String>,
    pub(crate) without: Vec<String>,
    pub(crate) on: Option<Day>,
}

impl TypedWish {
    pub(crate) fn read(&self) -> Result<Wish, StudioError> {
        Ok(Wish {
            hours: self.hours.read()?,
            small: names(&self.small),
            leave: names(&self.leave),
            without: names(&self.without),
            on: day(&self.on, "the day")?,
        })
    }
}

fn names(text: &str) -> Vec<String> {
    let mut out: Vec<String> = text.split([' ', ',']).map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned).collect();
    out.dedup();
    out
}

impl Wish {
    /// The day with the wish; pots and boards that stay for another day keep their places, empty.
    pub(crate) fn on_day(&self, asked: &DayAsked) -> Result<DayAsked, StudioError> {
        let mut day = DayAsked { begins: self.hours.begins, ends: self.hours.ends, ..asked.clone() };
        for letter in self.small.iter().chain(&self.leave) {
            if !day.pots.iter().any(|pot| pot.letter == *letter) {
                return Err(StudioError::Typed(format!("this day has no pot \u{201c}{}\u{201d}; look at the day again", short(letter))));
            }
        }
        for number in &self.without {
            if !day.pots.iter().flat_map(|pot| &pot.boards).any(|board| board.number == *number) {
                return Err(StudioError::Typed(format!("this day has no board \u{201c}{}\u{201d}; look at the day again", short(number))));
            }
        }
        for pot in &mut day.pots {
            if self.small.contains(&pot.letter) {
                pot.mixed = Mixed::EachCoat;
            }
            let leave = self.leave.contains(&pot.letter);
            pot.boards.retain(|board| !leave && !self.without.contains(&board.number));
        }
        Ok(day)
    }

    /// The wish with a way out taken; `None` where the clock of one day has no such hour.
    pub(crate) fn with(&self, asked: &DayAsked, way: &Way) -> Option<Self> {
        let mut wish = self.clone();
        let letter = |at: &usize| asked.pots.get(*at).map(|pot| pot.letter.clone());
        match way {
            Way::Earlier { by } => wish.hours.begins = self.hours.begins - *by,
            Way::Later { by } => wish.hours.ends = self.hours.ends + *by,
            Way::SmallerPots { pots, .. } => wish.small.extend(pots.iter().filter_map(letter)),
            Way::TwoDays { first } => {
                wish.leave.extend((0..asked.pots.len()).filter(|at| !first.contains(at)).filter_map(|at| letter(&at)));
            }
            Way::FewerBoards { left_out } => wish.without.extend(left_out.iter().cloned()),
        }
        for list in [&mut wish.small, &mut wish.leave, &mut wish.without] {
            list.sort();
            list.dedup();
        }
        let whole = Clock::new(0)..=Clock::new(24 * 60);
        (whole.contains(&wish.hours.begins) && whole.contains(&wish.hours.ends)).then_some(wish)
    }

    /// Names and values as forms and addresses have them.
    pub(crate) fn fields(&self) -> Vec<(String, String)> {
        let clock = |clock: Clock| format!("{}:{:02}", clock.count() / 60, clock.count() % 60);
        let all = [
            ("from", clock(self.hours.begins)),
            ("to", clock(self.hours.ends)),
            ("small", self.small.join(" ")),
            ("leave", self.leave.join(" ")),
            ("without", self.without.join(" ")),
            ("on", self.on.map_or_else(String::new, |day| day.to_string())),
        ];
        all.into_iter().filter(|(_, value)| !value.is_empty()).map(|(name, value)| (name.to_owned(), value)).collect()
    }

    /// What differs from the day of the plan, in sentences.
    pub(crate) fn changes(&self) -> Vec<String> {
        let list = |names: &[String]| and(&names.iter().map(String::as_str).collect::<Vec<_>>());
        let pots = |names: &[String]| if names.len() == 1 { "Pot" } else { "Pots" };
        let mut out = Vec::new();
        if !self.small.is_empty() {
            out.push(format!(
                "{} {}: mixed anew for each coat, small, to the same recipe. Weigh each of them the same way: a pot is a thing that can change the boards.",
                pots(&self.small),
                list(&self.small)
            ));
        }
        if !self.leave.is_empty() {
            out.push(format!(
                "{} {}: laid on another day. What then differs can come from the day as well as from the recipe; lay the known ground on both days.",
                pots(&self.leave),
                list(&self.leave)
            ));
        }
        if !self.without.is_empty() {
            let boards = if self.without.len() == 1 { "Board" } else { "Boards" };
            out.push(format!("{boards} {}: left out of this day; fewer boards tell less.", list(&self.without)));
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use making::{BoardAsked, Minutes, PotAsked};

    fn asked() -> DayAsked {
        let pot = |letter: &str, numbers: &[&str]| PotAsked {
            letter: letter.into(),
            boards: numbers.iter().map(|number| BoardAsked { number: (*number).into(), coats: vec![Minutes::new(5)] }).collect(),
            ..PotAsked::default()
        };
        DayAsked { pots: vec![pot("A", &["01", "02"]), pot("B", &["03"])], ..DayAsked::default() }
    }

    #[test]
    fn a_way_out_comes_back_from_its_own_address() {
        let wish = TypedWish::default().read().unwrap();
        for way in [
            Way::Earlier { by: Minutes::new(40) },
            Way::Later { by: Minutes::new(75) },
            Way::SmallerPots { pots: vec![1], mixed: Mixed::EachCoat },
            Way::TwoDays { first: vec![0] },
            Way::FewerBoards { left_out: vec!["02".into()] },
        ] {
            let with = wish.with(&asked(), &way).unwrap();
            let fields = with.fields();
            let get = |name: &str| fields.iter().find(|(field, _)| field == name).map_or_else(String::new, |(_, value)| value.clone());
            let typed = TypedWish {
                hours: TypedHours { from: get("from"), to: get("to") },
                small: get("small"),
                leave: get("leave"),
                without: get("without"),
                on: get("on"),
            };
            assert_eq!(typed.read().unwrap(), with);
            let (mut ours, theirs) = (
                with.on_day(&asked()).unwrap(),
                making::apply(&DayAsked { begins: wish.hours.begins, ends: wish.hours.ends, ..asked() }, &way),
            );
            // `apply` empties the pots of the other day just as this does.
            ours.washing_up = theirs.washing_up;
            assert_eq!(ours, theirs, "{way:?}");
        }
    }

    #[test]
    fn a_day_does_not_begin_yesterday() {
        let wish = TypedWish::default().read().unwrap();
        assert_eq!(wish.with(&asked(), &Way::Earlier { by: Minutes::new(541) }), None);
    }

    #[test]
    fn what_the_day_does_not_have_is_refused() {
        let of = |small: &str, without: &str| {
            let typed = TypedWish { small: small.into(), without: without.into(), ..TypedWish::default() };
            typed.read().and_then(|wish| wish.on_day(&asked())).map_err(|why| why.to_string())
        };
        assert!(of("A,B", "03").is_ok());
        assert!(of("C", "").unwrap_err().contains("no pot"));
        assert!(of("", "99").unwrap_err().contains("no board"));
    }
}
