//! Scales that a painter makes up.

use super::ReadingValue;
use super::model::{Better, Class, Kind, Rank, Scale, ScaleId};

/// A scale of the painter's own that says too little.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OwnScaleError {
    /// No letter or figure in the name.
    #[error("give the scale a name, such as `tooth under silverpoint`")]
    NoName,
    /// A class has no words.
    #[error("say what {class} looks like; two people can give the same number only to the same words")]
    NoLook {
        /// The class, 0 to 5.
        class: usize,
    },
    /// Two classes have the same words.
    #[error("{first} and {second} look alike; say what sets them apart")]
    SameLook {
        /// The lower class.
        first: usize,
        /// The higher class.
        second: usize,
    },
}

impl Scale {
    /// A scale 0 to 5 with the painter's own words for each number. Its short name is `own:` and the name in small letters.
    ///
    /// # Errors
    /// No name, a class without words, or two classes with the same words.
    ///
    /// ```
    /// use trials::scales::{Better, Scale};
    /// let looks = ["slides off", "a trace", "thin line", "clear line", "dark line", "tears the point"];
    /// let tooth = Scale::own("Tooth under silverpoint", Better::Larger, looks)?;
    /// assert_eq!(tooth.id.as_str(), "own:tooth_under_silverpoint");
    /// # Ok::<(), trials::scales::OwnScaleError>(())
    /// ```
    pub fn own(name: &str, better: Better, looks: [&str; 6]) -> Result<Self, OwnScaleError> {
        let name = name.trim();
        let words = name.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
        let short = words.map(str::to_lowercase).collect::<Vec<_>>().join("_");
        if short.is_empty() {
            return Err(OwnScaleError::NoName);
        }
        let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
        for (class, look) in looks.iter().enumerate() {
            if look.trim().is_empty() {
                return Err(OwnScaleError::NoLook { class });
            }
            if let Some(first) = looks.iter().take(class).position(|other| same(look, other)) {
                return Err(OwnScaleError::SameLook { first, second: class });
            }
        }
        let source = "own scale of the painter";
        Ok(Self {
            id: ScaleId::new(&format!("own:{short}")),
            name: name.to_owned(),
            question: format!("{name}: which fits best?"),
            kind: Kind::Class,
            unit: String::new(),
            better,
            low: 0.0,
            high: 5.0,
            step: Some(0.5),
            none: Some(ReadingValue::Exact(0.0)),
            limits: None,
            beside: Vec::new(),
            how: "Hold the board beside the words of each number and give the nearest.".to_owned(),
            spoils: false,
            rank: Rank::Look,
            scope: String::new(),
            source: source.to_owned(),
            classes: looks
                .iter()
                .zip(0_u8..)
                .map(|(look, value)| Class {
                    value: f64::from(value),
                    mark: String::new(),
                    limit: None,
                    look: look.trim().to_owned(),
                    source: source.to_owned(),
                })
                .collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_needs_words_of_its_own() {
        let looks = ["none", "trace", "little", "some", "much", "all"];
        let scale = Scale::own("  Haze! ", Better::Smaller, looks).unwrap();
        assert_eq!((scale.id.as_str(), scale.name.as_str(), scale.classes.len()), ("own:haze", "Haze!", 6));
        assert_eq!(Scale::own(" !? ", Better::Smaller, looks), Err(OwnScaleError::NoName));
        let gap = Scale::own("haze", Better::Smaller, ["none", " ", "little", "some", "much", "all"]);
        assert_eq!(gap, Err(OwnScaleError::NoLook { class: 1 }));
        let twice = Scale::own("haze", Better::Smaller, ["none", "trace", "little", "Trace", "much", "all"]);
        assert_eq!(twice, Err(OwnScaleError::SameLook { first: 1, second: 3 }));
    }
}
