//! How a phone is let in: a code that the desk shows, a knock by whoever has it, a yes at the desk, the key. No clock and no chance here.
//!
//! A code serves one knock, for three minutes, and is dead after five wrong tries, whoever made them.

use super::keys::{same, typed};

/// Seconds that a code can be used, that a knock waits for the desk, and that a yes waits for the phone (model choice).
pub(crate) const LASTS: i64 = 180;
/// Wrong tries after which a code is dead.
pub(crate) const WRONG_TRIES: u8 = 5;

/// One code and what became of it. Moments are seconds since 1970.
#[derive(Debug)]
pub(crate) struct Pairing {
    /// Name of this try at pairing, for the desk's forms: a yes must not go to another phone than the one that was shown.
    pub(crate) id: String,
    /// 128 bits for the square code.
    pub(crate) secret: String,
    /// 40 bits for typing.
    pub(crate) code: String,
    from: i64,
    wrong: u8,
    step: Step,
}

#[derive(Debug)]
enum Step {
    Offered,
    Asked { name: String, ticket: String },
    Allowed { name: String, ticket: String },
    In(String),
    TurnedAway(String),
}

/// What the desk sees.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Stage {
    /// The code can be used.
    Offered,
    /// A phone of this name wants in.
    Asked(String),
    /// The desk said yes; the phone has not picked its key up yet.
    Allowed(String),
    /// This phone has its key.
    In(String),
    /// The desk said no.
    TurnedAway(String),
    /// Nobody came in time.
    RanOut,
    /// Too many wrong tries.
    Dead,
}

/// What a phone brings.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Given<'a> {
    /// The secret of the square code.
    Secret(&'a str),
    /// The code as typed.
    Code(&'a str),
}

/// Why a knock is not heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Turned {
    /// No code is shown, or it ran out.
    NoCode,
    /// Somebody used it already.
    Used,
    /// Not the code; so many tries are left.
    Wrong(u8),
    /// Too many wrong tries: a new code must be asked for.
    Dead,
}

/// What a phone that knocked is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Told {
    /// The desk has not answered yet.
    Wait,
    /// It may pick up its key.
    Yes,
    /// The desk said no, or it took too long, or this is no ticket.
    No,
}

impl Pairing {
    /// A fresh code.
    pub(crate) fn new(id: String, secret: String, code: String, now: i64) -> Self {
        Self { id, secret, code, from: now, wrong: 0, step: Step::Offered }
    }

    /// When the present step runs out.
    pub(crate) fn until(&self) -> i64 {
        self.from + LASTS
    }

    fn ran_out(&self, now: i64) -> bool {
        // A clock that was set back does not lengthen a code's life.
        !(self.from..self.until()).contains(&now)
    }

    /// What the desk sees now.
    pub(crate) fn stage(&self, now: i64) -> Stage {
        match &self.step {
            Step::In(name) => Stage::In(name.clone()),
            Step::TurnedAway(name) => Stage::TurnedAway(name.clone()),
            _ if self.wrong >= WRONG_TRIES => Stage::Dead,
            _ if self.ran_out(now) => Stage::RanOut,
            Step::Offered => Stage::Offered,
            Step::Asked { name, .. } => Stage::Asked(name.clone()),
            Step::Allowed { name, .. } => Stage::Allowed(name.clone()),
        }
    }

    /// A phone knocks; with the right code it is heard, and the code is used up.
    pub(crate) fn knock(&mut self, given: Given<'_>, name: &str, ticket: String, now: i64) -> Result<(), Turned> {
        match self.stage(now) {
            Stage::Offered => {}
            Stage::RanOut => return Err(Turned::NoCode),
            Stage::Dead => return Err(Turned::Dead),
            _ => return Err(Turned::Used),
        }
        let right = match given {
            Given::Secret(secret) => same(secret, &self.secret),
            Given::Code(code) => same(&typed(code), &self.code),
        };
        if right {
            self.from = now;
            self.step = Step::Asked { name: name.to_owned(), ticket };
            return Ok(());
        }
        self.wrong += 1;
        if self.wrong >= WRONG_TRIES { Err(Turned::Dead) } else { Err(Turned::Wrong(WRONG_TRIES - self.wrong)) }
    }

    /// The desk says yes or no to the knock that it was shown. Without a knock nothing happens.
    pub(crate) fn answer(&mut self, yes: bool, now: i64) {
        if self.ran_out(now) {
            return;
        }
        if let Step::Asked { name, ticket } = &self.step {
            let (name, ticket) = (name.clone(), ticket.clone());
            self.from = now;
            self.step = if yes { Step::Allowed { name, ticket } } else { Step::TurnedAway(name) };
        }
    }

    /// What the phone with this ticket is told.
    pub(crate) fn told(&self, given: &str, now: i64) -> Told {
        match &self.step {
            Step::Asked { ticket, .. } if same(ticket, given) && !self.ran_out(now) => Told::Wait,
            Step::Allowed { ticket, .. } if same(ticket, given) && !self.ran_out(now) => Told::Yes,
            _ => Told::No,
        }
    }

    /// The phone picks up what it was promised: its name, once.
    pub(crate) fn pick_up(&mut self, ticket: &str, now: i64) -> Option<String> {
        if self.told(ticket, now) != Told::Yes {
            return None;
        }
        let Step::Allowed { name, .. } = &self.step else { return None };
        let name = name.clone();
        self.step = Step::In(name.clone());
        Some(name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SECRET: &str = "00112233445566778899aabbccddeeff";
    const CODE: &str = "ABCD0123";

    fn pairing() -> Pairing {
        Pairing::new("id".into(), SECRET.into(), CODE.into(), 1_000)
    }

    fn knock(pairing: &mut Pairing, given: Given<'_>, now: i64) -> Result<(), Turned> {
        pairing.knock(given, "kitchen phone", "ticket".into(), now)
    }

    #[test]
    fn a_code_runs_out_after_three_minutes() {
        // 3 min are 180 s: shown at 1000, good at 1179, gone at 1180.
        assert_eq!(knock(&mut pairing(), Given::Code(CODE), 1_179), Ok(()));
        assert_eq!(knock(&mut pairing(), Given::Code(CODE), 1_180), Err(Turned::NoCode));
        assert_eq!(knock(&mut pairing(), Given::Secret(SECRET), 1_180), Err(Turned::NoCode));
        assert_eq!(pairing().stage(1_180), Stage::RanOut);
        // A clock set back by an hour.
        assert_eq!(knock(&mut pairing(), Given::Code(CODE), 1_000 - 3_600), Err(Turned::NoCode));
    }

    #[test]
    fn five_wrong_tries_kill_it_whoever_made_them() {
        let mut pairing = pairing();
        let wrong = [Given::Code("ABCD0124"), Given::Secret("0"), Given::Code(""), Given::Secret(CODE), Given::Code(SECRET)];
        let said: Vec<_> = wrong.into_iter().map(|given| knock(&mut pairing, given, 1_010)).collect();
        assert_eq!(said, [Err(Turned::Wrong(4)), Err(Turned::Wrong(3)), Err(Turned::Wrong(2)), Err(Turned::Wrong(1)), Err(Turned::Dead)]);
        assert_eq!(knock(&mut pairing, Given::Code(CODE), 1_011), Err(Turned::Dead));
        assert_eq!(knock(&mut pairing, Given::Secret(SECRET), 1_011), Err(Turned::Dead));
        assert_eq!(pairing.stage(1_011), Stage::Dead);
    }

    #[test]
    fn four_wrong_tries_do_not() {
        let mut pairing = pairing();
        for _ in 0..4 {
            assert!(knock(&mut pairing, Given::Code("ZZZZZZZZ"), 1_010).is_err());
        }
        assert_eq!(knock(&mut pairing, Given::Code("abcd-oi23"), 1_011), Ok(()));
    }

    #[test]
    fn a_code_serves_once_by_either_way() {
        for (first, second) in [(Given::Code(CODE), Given::Secret(SECRET)), (Given::Secret(SECRET), Given::Code(CODE))] {
            for again in [first, second] {
                let mut pairing = pairing();
                assert_eq!(knock(&mut pairing, first, 1_010), Ok(()));
                assert_eq!(knock(&mut pairing, again, 1_011), Err(Turned::Used));
                assert_eq!(pairing.stage(1_011), Stage::Asked("kitchen phone".into()), "the first one still waits");
            }
        }
    }

    #[test]
    fn only_a_yes_gives_the_key_and_only_once_and_to_that_phone() {
        let mut pairing = pairing();
        pairing.answer(true, 1_005);
        assert_eq!(pairing.stage(1_005), Stage::Offered, "there is nobody to say yes to");
        knock(&mut pairing, Given::Code(CODE), 1_010).unwrap();
        assert_eq!((pairing.told("ticket", 1_011), pairing.told("other", 1_011)), (Told::Wait, Told::No));
        assert_eq!(pairing.pick_up("ticket", 1_011), None);
        pairing.answer(true, 1_020);
        assert_eq!((pairing.told("ticket", 1_021), pairing.told("", 1_021)), (Told::Yes, Told::No));
        assert_eq!(pairing.pick_up("other", 1_021), None);
        assert_eq!(pairing.pick_up("ticket", 1_021).as_deref(), Some("kitchen phone"));
        assert_eq!(pairing.pick_up("ticket", 1_022), None);
        assert_eq!(pairing.stage(9_999), Stage::In("kitchen phone".into()));
    }

    #[test]
    fn a_no_stays_a_no() {
        let mut pairing = pairing();
        knock(&mut pairing, Given::Secret(SECRET), 1_010).unwrap();
        pairing.answer(false, 1_020);
        pairing.answer(true, 1_021);
        assert_eq!((pairing.told("ticket", 1_022), pairing.pick_up("ticket", 1_022)), (Told::No, None));
        assert_eq!(pairing.stage(1_022), Stage::TurnedAway("kitchen phone".into()));
    }

    #[test]
    fn a_knock_and_a_yes_wait_three_minutes_each() {
        let mut late = pairing();
        knock(&mut late, Given::Code(CODE), 1_100).unwrap();
        late.answer(true, 1_100 + LASTS);
        assert_eq!((late.told("ticket", 1_281), late.stage(1_281)), (Told::No, Stage::RanOut));
        let mut slow = pairing();
        knock(&mut slow, Given::Code(CODE), 1_100).unwrap();
        slow.answer(true, 1_200);
        assert_eq!(slow.pick_up("ticket", 1_200 + LASTS), None);
    }
}
