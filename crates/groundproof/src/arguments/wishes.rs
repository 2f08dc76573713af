//! What can be said of a wish and of real panels.

use clap::Args;

use crate::size::{Area, Length, Mass};

#[derive(Debug, Args)]
pub(crate) struct Enlarge {
    /// The recipe in words: `250 g chalk, 14 g hide glue, 200 ml water`.
    #[arg(allow_hyphen_values = true)]
    pub(crate) recipe: String,
    /// Panels, such as `5 x 60x80cm`. May be given several times.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) panels: Vec<String>,
    /// Coats on each.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=40))]
    pub(crate) coats: Option<u32>,
    /// Edges are coated too; how thick they are, such as `2cm`.
    #[arg(long, allow_hyphen_values = true, default_value = "")]
    pub(crate) edges: String,
    /// Backs are coated too.
    #[arg(long)]
    pub(crate) backs: bool,
    /// Wet mass of one coat in g/m2, such as `200`.
    #[arg(long, conflicts_with = "dry")]
    pub(crate) wet: Option<f64>,
    /// How thick all coats are together when dry, such as `300um`.
    #[arg(long)]
    pub(crate) dry: Option<Length>,
    /// What stays in brush and pot, such as `10%` of what is laid.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) loss: Option<String>,
    /// The largest batch, such as `2kg`.
    #[arg(long)]
    pub(crate) biggest: Option<Mass>,
    /// A batch for each panel.
    #[arg(long)]
    pub(crate) one_each: bool,
    /// `us`, `metric`, or what the own cup, tablespoon and teaspoon hold in ml: `240/15/5`.
    #[arg(long, default_value = "")]
    pub(crate) spoons: String,
    /// Step of the scale, such as `1g`.
    #[arg(long)]
    pub(crate) scale: Option<Mass>,
    /// Sheet that the panels are cut from, such as `122x244cm`.
    #[arg(long, default_value = "")]
    pub(crate) sheet: String,
    /// What the saw eats, such as `3mm`.
    #[arg(long, requires = "sheet")]
    pub(crate) kerf: Option<Length>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Wish {
    /// A recipe to start from, in words: `250 g chalk, 14 g hide glue, 200 ml water`.
    #[arg(long, allow_hyphen_values = true, default_value = "")]
    pub(crate) like: String,
    /// It is to be usual, and to stay so over the spread of what it is measured with.
    #[arg(long)]
    pub(crate) usual: bool,
    /// The powder that is to be in it.
    #[arg(long, default_value = "")]
    pub(crate) with: String,
    /// Half of the binder, and still brushable.
    #[arg(long)]
    pub(crate) half_binder: bool,
    /// What must not go in, such as `borax; gypsum`.
    #[arg(long, default_value = "")]
    pub(crate) without: String,
    /// What is at hand, such as `500 g chalk; hide glue`; anything that the book knows if it is not said.
    #[arg(long, allow_hyphen_values = true, default_value = "")]
    pub(crate) shelf: String,
    /// How much to make, such as `500g`.
    #[arg(long, conflicts_with = "area")]
    pub(crate) make: Option<Mass>,
    /// Area to cover, such as `0.6m2`.
    #[arg(long, requires = "dry")]
    pub(crate) area: Option<Area>,
    /// How thick it is to be when dry, such as `200um`.
    #[arg(long, requires = "area")]
    pub(crate) dry: Option<Length>,
    /// `us`, `metric`, or what the own cup, tablespoon and teaspoon hold in ml: `240/15/5`.
    #[arg(long, default_value = "")]
    pub(crate) spoons: String,
    /// Step of the scale, such as `1g`.
    #[arg(long)]
    pub(crate) scale: Option<Mass>,
    /// Print the report as JSON.
    #[arg(long)]
    pub(crate) json: bool,
}
