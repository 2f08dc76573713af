//! A making day for somebody who never did it: curd casein, eight boards, two coats.

use making::{Minutes, Span, TimeShelf, walk};
use show::{
    DayStrip, StripBlock, StripLife, StripPot, StripWait, WalkFrame, WalkScene, WalkView, capital, clock_words, lasting, walk_picture,
};

use crate::{MilkForm, Workbench};

/// When the day of the coats begins, minutes after midnight; the curd is made the evening before.
const BEGINS: i32 = 9 * 60;
/// Boards of the day and coats on each; invented.
const BOARDS: u32 = 8;
const COATS: u32 = 2;

/// Why the day can't be shown: the program's own data is broken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the day can't be shown: {0}")]
pub struct WalkError(String);

impl Workbench {
    /// The day in frames, with amounts worked out for it. Milk, boards and the hour are invented.
    ///
    /// # Errors
    /// The program's own data is broken.
    ///
    /// ```
    /// let bench = workbench::Workbench::open()?;
    /// let day = bench.walk()?;
    /// assert!(day.frames[0].says.starts_with("Warm the milk") && day.frames[0].take.iter().any(|one| one.material == "skim-milk"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn walk(&self) -> Result<WalkView, WalkError> {
        let broken = |why: &dyn std::fmt::Display| WalkError(why.to_string());
        let steps = walk().map_err(|why| broken(&why))?;
        let shelf = TimeShelf::builtin().map_err(|why| broken(&why))?;
        let form = MilkForm { milk: "1 l skim milk".into(), boards: BOARDS, coats: COATS, ..MilkForm::default() };
        let milk = self.milk(&form).map_err(|why| broken(&why))?;
        let take = &milk.report.take;
        let evening: i32 =
            steps.iter().take_while(|step| step.key != "open").map(|step| (step.hands.usual + step.stands.usual).count()).sum();
        let mut at = BEGINS - evening;
        let mut view = WalkView {
            sentence: format!(
                "{} boards of 20 x 25 cm with {COATS} coats of curd casein and chalk, in the workshop of the lighthouse. Milk, boards and hours are invented; the amounts are worked out for them.",
                capital(&words(BOARDS))
            ),
            ..WalkView::default()
        };
        let mut strip = DayStrip { from: BEGINS, ..DayStrip::default() };
        let mut pot = StripPot { letter: "A".into(), words: "curd casein, chalk".into(), ..StripPot::default() };
        for step in steps {
            let Some(scene) = WalkScene::of(&step.key) else { return Err(WalkError(format!("there is no picture for {}", step.key))) };
            let (hands, stands) = (step.hands.usual.count(), step.stands.usual.count());
            let block = StripBlock { from: at, to: at + hands, label: label(scene).into(), mark: String::new() };
            if matches!(scene, WalkScene::Along | WalkScene::Across) {
                let mark = if scene == WalkScene::Along { "1" } else { "2" };
                pot.rounds.push(StripBlock { mark: mark.into(), ..block.clone() });
                pot.waits.push(StripWait {
                    from: at,
                    low: at + hands + step.stands.low.count(),
                    high: at + hands + step.stands.high.count(),
                });
            }
            // The strip shows the day itself.
            if at >= BEGINS {
                strip.hands.push(block);
            }
            view.frames.push(WalkFrame {
                key: step.key.clone(),
                picture: walk_picture(scene, &step.says),
                says: step.says.clone(),
                look: step.look.clone(),
                // The form's order is milk, acid, base, powder, water.
                take: ["milk", "acid", "base", "powder", "water"]
                    .iter()
                    .zip(take)
                    .filter(|(slot, _)| step.take.iter().any(|wanted| wanted == *slot))
                    .map(|(_, portion)| portion.clone())
                    .collect(),
                about: clock_words(at).replace("the day before", "the evening before"),
                hands: span_words(&step.hands),
                stands: if step.stands.high == Minutes::ZERO { String::new() } else { span_words(&step.stands) },
                caution: step.caution.clone(),
                source: step.source.clone(),
            });
            at += hands + stands;
            if scene == WalkScene::Strain {
                let life = shelf.pot("casein_soda").ok_or_else(|| broken(&"the life of a casein pot is missing"))?.life;
                pot.life.push(StripLife { from: at, low: at + life.low.count(), high: at + life.high.count() });
            }
        }
        strip.to = at + 30;
        strip.pots.push(pot);
        view.lasts = format!(
            "The curd is made the evening before. Then {} from the curd to the clean pot; hands are busy for {} in all.",
            lasting(i64::from(at - BEGINS)),
            {
                let hands: i32 = steps.iter().map(|step| step.hands.usual.count()).sum();
                lasting(i64::from(hands))
            }
        );
        view.strip = show::day_strip_picture(&strip);
        view.column = show::day_column_picture(&strip);
        Ok(view)
    }
}

fn words(count: u32) -> String {
    match count {
        8 => "eight".into(),
        other => other.to_string(),
    }
}

const fn label(scene: WalkScene) -> &'static str {
    match scene {
        WalkScene::Curd => "milk to curd",
        WalkScene::Rinse => "rinse",
        WalkScene::Open => "open the curd",
        WalkScene::Sift => "powder in",
        WalkScene::Strain => "strain, weigh",
        WalkScene::Along => "first coat",
        WalkScene::Touch => "touch",
        WalkScene::Across => "second coat",
        WalkScene::Wash => "weigh, wash up",
    }
}

fn span_words(span: &Span) -> String {
    let of = |time: Minutes| lasting(i64::from(time.count()));
    if span.low == span.high { of(span.usual) } else { format!("about {} ({} to {})", of(span.usual), of(span.low), of(span.high)) }
}
