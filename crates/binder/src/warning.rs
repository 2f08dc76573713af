//! What to watch for on the way.

use crate::dissolve::Base;
use crate::request::{AcidAtHand, AcidSource, MilkKind, MilkRequest};

/// Something that the painter should know before starting. Each defers to the safety data sheet where work can hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Warning {
    /// Acid, curd and whey never meet bleach.
    NeverWithBleach,
    /// A strong acid that no kitchen needs.
    HydrochloricAcid,
    /// A base that burns and breaks casein down.
    StrongAlkali,
    /// A base that leaves as gas.
    AmmoniaEscapes,
    /// Cream stays in the curd.
    FattyCurd,
    /// Milk that was hot curdles softly.
    SoftCurd,
    /// So sour that casein begins to open again.
    TooSour,
}

impl Warning {
    /// In plain words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::NeverWithBleach => {
                "Keep bleach away from acid, curd, whey, cloth and sieve: together they give off chlorine, a poisonous gas. Bleach and \
                 ammonia are as dangerous. Wash up with cold water first, then with hot water and washing-up liquid."
            }
            Self::HydrochloricAcid => {
                "Hydrochloric acid burns skin and eyes, and its fumes hurt the lungs. It has no place in a kitchen, and vinegar does the \
                 same work. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask \
                 for; where it matters, leave it to a licensed professional."
            }
            Self::StrongAlkali => {
                "This base burns skin and eyes, and too much of it breaks casein down. Baking soda or borax open the curd more gently. \
                 Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for."
            }
            Self::AmmoniaEscapes => {
                "Ammonia leaves as gas, from the pot too: in practice two to three times the amount worked out goes in. It irritates eyes \
                 and lungs. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for."
            }
            Self::FattyCurd => "The cream stays in the curd. A fatty curd binds weakly and coats part on it; take skim milk if you can.",
            Self::SoftCurd => {
                "Milk that was hot before gives a soft curd with whey protein in it, which drains badly and dissolves worse; take fresh milk."
            }
            Self::TooSour => {
                "That is more acid than casein wants. Below pH 4.3 it begins to open again and carries acid along; use less, or rinse more."
            }
        }
    }

    pub(crate) fn gather(request: &MilkRequest, too_sour: bool) -> Vec<Self> {
        let base = |bases: &[Base]| request.base.is_some_and(|base| bases.contains(&base));
        let mut found = vec![Self::NeverWithBleach];
        let mut add = |applies: bool, warning: Self| {
            if applies {
                found.push(warning);
            }
        };
        let strong = |acid: &AcidAtHand| acid.source == AcidSource::HydrochloricAcid;
        add(strong(&request.acid) || request.others.iter().any(strong), Self::HydrochloricAcid);
        add(base(&[Base::CausticSoda, Base::SodaAsh, Base::WashingSoda, Base::StrongAmmonia]), Self::StrongAlkali);
        add(request.base.is_some_and(Base::escapes), Self::AmmoniaEscapes);
        add(matches!(request.kind, MilkKind::PartSkim | MilkKind::Whole), Self::FattyCurd);
        add(request.heated_before, Self::SoftCurd);
        add(too_sour, Self::TooSour);
        found
    }
}
