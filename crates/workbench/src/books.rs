//! What the books say: handbook recipes with their place on the rule, or the reason why they have none.

use measure::Draws;
use show::{BookView, capital, write};

use crate::Workbench;
use crate::verdict::said;

impl Workbench {
    /// All handbook recipes. Worked out once: they depend on nothing but the program's own data.
    pub fn books(&self) -> Vec<BookView> {
        self.books.get_or_init(|| self.work_out_books()).clone()
    }

    fn work_out_books(&self) -> Vec<BookView> {
        let mut out: Vec<BookView> = Vec::new();
        for row in self.jars.handbook() {
            let line = (row.ingredient.clone(), amount(&row.amount, &row.unit), row.note.clone());
            if let Some(book) = out.last_mut().filter(|book| book.id == row.id) {
                book.rows.push(line);
            } else {
                let place = self.places.iter().find(|place| place.id == row.id);
                out.push(BookView {
                    id: row.id.clone(),
                    name: row.name.clone(),
                    rows: vec![line],
                    source: if row.verified { row.source.clone() } else { format!("{} (not verified)", row.source) },
                    has_place: place.is_some_and(|place| place.recipe.is_ok()),
                    place: place.map_or_else(String::new, |place| self.place_in_words(place)),
                    assumption: place.map_or_else(String::new, |place| place.assumption.clone()),
                    told: place.map_or_else(String::new, |place| place.told.clone()),
                });
            }
        }
        out
    }

    /// Ticks of the handbook grounds on the rule.
    pub fn handbook_ticks(&self) -> &[show::Tick] {
        &self.ticks
    }

    fn place_in_words(&self, place: &ground::Place) -> String {
        match &place.recipe {
            Err(reason) => capital(&format!("{reason}.")),
            Ok(_) => place.film(self.jars, &self.units, Draws::USUAL).map_or_else(String::new, |ranges| {
                let word = ground::Words::of(&ranges).map_or_else(String::new, |words| said(&words));
                format!("{} on the rule: {word}.", write(&ranges.lambda()).line())
            }),
        }
    }
}

fn amount(amount: &str, unit: &str) -> String {
    match (amount.is_empty(), unit.is_empty()) {
        (true, _) => String::new(),
        (false, true) => amount.to_owned(),
        (false, false) => format!("{amount} {unit}"),
    }
}
