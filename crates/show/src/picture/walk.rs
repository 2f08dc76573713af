//! A making day drawn for somebody who never did it: one scene for each thing that hands do.

mod things;

use super::svg::Svg;
use things::{
    arrow, bench, board, bowl, brush, bubbles, bucket, cloth, dial, dust, fist, hot_plate, jar, jug, knuckle, lid, lump, pan, scale, sieve,
    spoon, stream, strokes, thermometer, window,
};

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WalkScene {
    /// Warm milk in a pan, acid from a jug, curd in the whey.
    Curd,
    /// Curd in a cloth over a bowl, water through it.
    Rinse,
    /// Soda into the curd in a jar: it froths and opens.
    Open,
    /// Powder through a sieve into the pot.
    Sift,
    /// Strained through a fine sieve; a brush that lets one drop go.
    Strain,
    /// The first coat along the board, scale below.
    Along,
    /// The back of a finger on the board, and a clock.
    Touch,
    /// The second coat across the first.
    Across,
    /// Pot on the scale, bucket where white settles, nothing into the drain.
    Wash,
}

impl WalkScene {
    /// In the order of the day.
    pub const ALL: [Self; 9] =
        [Self::Curd, Self::Rinse, Self::Open, Self::Sift, Self::Strain, Self::Along, Self::Touch, Self::Across, Self::Wash];

    /// The scene of this key, as in the table of the walk; `None` for a key that has no drawing.
    pub fn of(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|scene| scene.key() == key)
    }

    /// Its key.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Curd => "curd",
            Self::Rinse => "rinse",
            Self::Open => "open",
            Self::Sift => "sift",
            Self::Strain => "strain",
            Self::Along => "along",
            Self::Touch => "touch",
            Self::Across => "across",
            Self::Wash => "wash",
        }
    }

    /// What is to be seen, for those who can't see it.
    const fn seen(self) -> &'static str {
        match self {
            Self::Curd => {
                "A pan of warm milk on a hot plate; acid runs in from a small jug and white lumps of curd float in the whey. A thermometer stands in it."
            }
            Self::Rinse => "Curd lies in a cloth in a sieve over a bowl; water from a jug runs through it.",
            Self::Open => "A spoon of soda goes into a jar with curd; froth rises and the upper half of the jar is empty for it.",
            Self::Sift => "Powder falls as a fine veil through a sieve into the pot. The window stands open.",
            Self::Strain => "The ground runs from the pot through a fine sieve into another; beside it a lifted brush lets one drop fall.",
            Self::Along => "A board lies on a kitchen scale. A brush lays the ground along it, from left to right.",
            Self::Touch => "The back of a finger touches a board that has turned matt. A clock hangs above.",
            Self::Across => "The brush lays the second coat from top to bottom, across the lines of the first.",
            Self::Wash => {
                "The pot with its lid stands on the scale. White settles in a bucket below clear water. The drain of the sink is crossed out."
            }
        }
    }
}

const WIDTH: f64 = 360.0;
const HEIGHT: f64 = 220.0;

/// Draws a scene; `said` is the sentence that stands beside it.
pub fn walk_picture(scene: WalkScene, said: &str) -> String {
    let mut svg = Svg::new(WIDTH, HEIGHT, said);
    svg.desc(scene.seen());
    svg.open("stroke-width=\"2\" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
    bench(&mut svg);
    match scene {
        WalkScene::Curd => {
            hot_plate(&mut svg, (150.0, 196.0));
            pan(&mut svg, (150.0, 182.0), (150.0, 84.0), 0.72);
            for (x, y, r) in [
                (112.0, 128.0, 13.0),
                (140.0, 134.0, 16.0),
                (172.0, 127.0, 12.0),
                (196.0, 135.0, 13.0),
                (156.0, 152.0, 11.0),
                (120.0, 156.0, 9.0),
                (188.0, 159.0, 9.0),
            ] {
                lump(&mut svg, (x, y), r);
            }
            thermometer(&mut svg, (98.0, 150.0));
            jug(&mut svg, (252.0, 56.0));
            stream(&mut svg, (208.0, 70.0), 50.0);
            fist(&mut svg, (272.0, 26.0));
        }
        WalkScene::Rinse => {
            bowl(&mut svg, (150.0, 196.0), (180.0, 68.0), 0.3);
            for (x, y, r) in [(112.0, 112.0, 15.0), (186.0, 111.0, 15.0), (128.0, 100.0, 15.0), (168.0, 98.0, 17.0), (149.0, 108.0, 18.0)] {
                lump(&mut svg, (x, y), r);
            }
            sieve(&mut svg, (150.0, 122.0), 170.0);
            cloth(&mut svg, (150.0, 122.0), 176.0);
            for x in [118.0, 140.0, 162.0, 184.0] {
                stream(&mut svg, (x, 160.0), 14.0);
            }
            jug(&mut svg, (196.0, 52.0));
            stream(&mut svg, (152.0, 66.0), 18.0);
            fist(&mut svg, (216.0, 22.0));
        }
        WalkScene::Open => {
            jar(&mut svg, (130.0, 196.0), (118.0, 128.0), 0.5);
            bubbles(&mut svg, (130.0, 132.0), 100.0);
            for (x, y, r) in [(100.0, 160.0, 12.0), (132.0, 172.0, 14.0), (160.0, 158.0, 11.0)] {
                lump(&mut svg, (x, y), r);
            }
            spoon(&mut svg, (132.0, 44.0), true);
            dust(&mut svg, (122.0, 62.0), (20.0, 26.0));
            fist(&mut svg, (234.0, 20.0));
            // The empty half, measured off.
            svg.drawn("class=\"le\"", "M46 70v60m-7 -60h14m-14 60h14");
            svg.text("e", 13.0, "start", (8.0, 58.0), "room for froth");
        }
        WalkScene::Sift => {
            window(&mut svg, (16.0, 14.0));
            pan(&mut svg, (190.0, 196.0), (140.0, 70.0), 0.6);
            sieve(&mut svg, (190.0, 44.0), 96.0);
            svg.path("l", "M238 46L296 34");
            svg.path("a", "M152 43q38 -26 76 0z");
            svg.path("l", "M152 43q38 -26 76 0");
            dust(&mut svg, (150.0, 78.0), (80.0, 58.0));
            fist(&mut svg, (304.0, 34.0));
        }
        WalkScene::Strain => {
            pan(&mut svg, (96.0, 196.0), (116.0, 64.0), 0.5);
            sieve(&mut svg, (96.0, 108.0), 92.0);
            for x in [78.0, 96.0, 114.0] {
                stream(&mut svg, (x, 128.0), 34.0);
            }
            jug(&mut svg, (140.0, 44.0));
            stream(&mut svg, (96.0, 60.0), 44.0);
            pan(&mut svg, (272.0, 196.0), (104.0, 58.0), 0.7);
            brush(&mut svg, (272.0, 100.0), 0.0);
            svg.path("a", "M272 112q-6 10 0 14q6 -4 0 -14z");
            svg.path("le", "M272 112q-6 10 0 14q6 -4 0 -14z");
            svg.text("e", 13.0, "start", (288.0, 124.0), "one drop");
        }
        WalkScene::Along => {
            scale(&mut svg, (170.0, 196.0));
            board(&mut svg, (60.0, 42.0), (220.0, 112.0));
            strokes(&mut svg, (66.0, 50.0), (150.0, 96.0), true);
            brush(&mut svg, (212.0, 100.0), 42.0);
            arrow(&mut svg, (70.0, 26.0), (210.0, 26.0));
        }
        WalkScene::Touch => {
            board(&mut svg, (28.0, 96.0), (210.0, 92.0));
            svg.path("a", "M34 102h198v80h-198z");
            knuckle(&mut svg, (150.0, 138.0));
            dial(&mut svg, (60.0, 46.0), 32.0);
        }
        WalkScene::Across => {
            board(&mut svg, (60.0, 58.0), (220.0, 122.0));
            strokes(&mut svg, (66.0, 64.0), (208.0, 110.0), true);
            svg.path("a", "M66 64h116v110h-116z");
            strokes(&mut svg, (66.0, 64.0), (116.0, 110.0), false);
            brush(&mut svg, (176.0, 120.0), 24.0);
            arrow(&mut svg, (36.0, 66.0), (36.0, 172.0));
        }
        WalkScene::Wash => {
            scale(&mut svg, (88.0, 196.0));
            pan(&mut svg, (88.0, 154.0), (92.0, 52.0), 0.35);
            lid(&mut svg, (88.0, 98.0), 92.0);
            bucket(&mut svg, (210.0, 196.0));
            svg.path("l", "M268 118h86M276 118q2 32 35 32q33 0 35 -32M311 150v22M334 118v-34q0 -12 -14 -12h-6v8");
            svg.drawn("class=\"le\" stroke-width=\"3\"", "M292 128l38 50m0 -50l-38 50");
        }
    }
    svg.close();
    svg.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_scene_has_its_key_and_words() {
        for scene in WalkScene::ALL {
            assert_eq!(WalkScene::of(scene.key()), Some(scene));
            let svg = walk_picture(scene, "Stir <slowly>.");
            assert!(svg.contains("<title>Stir &lt;slowly&gt;.</title><defs>") && svg.contains("<desc>") && !svg.contains("style"));
        }
        assert_eq!(WalkScene::of("dance"), None);
    }
}
