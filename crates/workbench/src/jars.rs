//! What is in the jars: the catalogue.

use materials::{Kind, Material, MaterialId};
use measure::Standing;
use show::{CautionView, JarRow, JarView, PropertyRow, plain, range};

use crate::Workbench;
use crate::goes::BINDERS;

impl Workbench {
    /// All materials, in groups.
    pub fn jars(&self) -> Vec<JarRow> {
        self.jars.materials().iter().map(row).collect()
    }

    /// One material; `None` if there is none of that name.
    pub fn jar(&self, id: &str) -> Option<JarView> {
        let id = MaterialId::new(id);
        let material = self.jars.material(&id)?;
        let mut names: Vec<String> = self
            .jars
            .names()
            .filter(|(_, meanings)| meanings.first().is_some_and(|(first, _)| *first == id))
            .map(|(name, _)| name.to_owned())
            .collect();
        names.sort();
        names.retain(|name| *name != material.name);
        let cautions = self
            .jars
            .hazards_of(&id)
            .map(|hazard| CautionView {
                about: hazard.group.clone(),
                text: hazard.caution.clone(),
                codes: [hazard.h_codes.as_str(), &hazard.pictograms.join(" ")]
                    .into_iter()
                    .filter(|c| !c.is_empty())
                    .collect::<Vec<_>>()
                    .join(" · "),
                source: if hazard.as_of.is_empty() { hazard.source.clone() } else { format!("{} (as of {})", hazard.source, hazard.as_of) },
                of_this_recipe: false,
                grave: crate::verdict::grave(&hazard.h_codes),
                jar_test: String::new(),
            })
            .collect();
        let pairs = BINDERS
            .into_iter()
            .filter_map(|(kind, _, words)| self.jars.pair(&id, kind).map(|pair| (words.to_owned(), pair.why.clone())))
            .collect();
        Some(JarView { row: row(material), names, properties: material.properties.iter().map(property).collect(), cautions, pairs })
    }

    /// Woods and how they move: name, change along the radius and along the rings for one point of moisture, source.
    pub fn woods(&self) -> Vec<[String; 4]> {
        let percent = |share: f64| format!("{}\u{a0}%", show::number(share * 100.0, 3));
        self.shelf
            .woods()
            .iter()
            .map(|wood| [wood.name.clone(), percent(wood.radial), percent(wood.tangential), wood.source.clone()])
            .collect()
    }

    /// Abrasive papers: number, grain, use, source.
    pub fn grits(&self) -> Vec<[String; 4]> {
        self.shelf
            .grits()
            .iter()
            .map(|grit| [grit.grade.clone(), format!("{}\u{a0}µm", plain(grit.grain.value())), grit.used_for.clone(), grit.source.clone()])
            .collect()
    }
}

fn row(material: &Material) -> JarRow {
    JarRow {
        id: material.id.as_str().to_owned(),
        name: material.name.clone(),
        chemist: material.chemist.clone(),
        group: group(material.kind),
        plain: material.plain.clone(),
    }
}

fn group(kind: Kind) -> &'static str {
    match kind {
        Kind::Filler => "White powders",
        Kind::Binder => "Glue, casein, egg",
        Kind::Milk => "Milk",
        Kind::Acid => "To curdle milk",
        Kind::Alkali => "To dissolve casein",
        Kind::Liquid => "Water and thinners",
        Kind::Oil => "Oils",
        Kind::Additive => "Small additions",
        Kind::Primer => "Bought primers",
        Kind::Support | Kind::Hazard => "To know about",
    }
}

fn property(property: &materials::Property) -> PropertyRow {
    let unit = if property.unit == "-" { String::new() } else { format!("\u{a0}{}", property.unit.replace("um", "µm")) };
    let spread = property.range.map_or_else(String::new, |(low, high)| format!(" (likely {})", range(low, high)));
    PropertyRow {
        name: words(&property.name).to_owned(),
        value: format!("{}{unit}{spread}", plain(property.value)),
        source: property.source.clone(),
        standing: match property.standing() {
            Standing::Measured => "measured by you",
            Standing::Published => "read in print",
            Standing::Computed => "worked out",
            Standing::FromMemory => "from memory",
            Standing::CommonPractice => "common practice",
            Standing::ModelChoice => "chosen for the model",
            Standing::Assumed => "assumed",
        },
    }
}

fn words(name: &str) -> &str {
    match name {
        "density" => "density of a grain or of the liquid",
        "bulk_density" => "a millilitre, level and loose",
        "oil_absorption" => "oil that 100 g drink",
        "refractive_index" => "refractive index",
        "size" => "size of the grains",
        "dry_share" => "share that stays as dry binder",
        "dry_density" => "density of the dry binder",
        "water_share" => "share of water",
        "oil_share" => "share of oil or fat",
        "volatile_share" => "share that leaves as it dries",
        "other_share" => "share of salts, sugar or lime that stays",
        "acid_strength" => "strength of the acid",
        "molar_mass" => "molar mass",
        "equivalents" => "charges it can take or give",
        "piece_mass" => "weight of one piece",
        "piece_volume" => "what one piece gives",
        "protein" => "protein",
        "casein_share_of_protein" => "share of casein in the protein",
        "pack_mass" | "pack_volume" => "a usual pack",
        "recovery" => "share of the casein that the cloth catches",
        other => other,
    }
}
