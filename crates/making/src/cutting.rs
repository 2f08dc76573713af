//! Panels out of sheets: straight cuts from edge to edge, as a panel saw makes them, on as few sheets as there are.
//!
//! A part of a sheet that is cut from edge to edge is two parts, side by side or one above the other. So the panels that fit on one
//! sheet are found from the smallest groups up: the least rectangles that hold a group are those of two smaller groups put together.
//! Of like panels only the number counts, which keeps the groups few. Where they are too many all the same, rows are laid instead,
//! and the answer says that it was not shown to be the least.

/// Panels of one size. Millimetres in whole tenths, so that sums are exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Panels {
    /// One side.
    pub wide: u32,
    /// The other.
    pub high: u32,
    /// How many.
    pub count: u32,
}

/// A sheet as it is sold, and the width that the saw eats; tenths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sheet {
    /// One side.
    pub wide: u32,
    /// The other.
    pub high: u32,
    /// What a cut takes away.
    pub kerf: u32,
}

/// A panel on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placed {
    /// Which of the sizes asked for.
    pub size: usize,
    /// From the left edge.
    pub left: u32,
    /// From the lower edge.
    pub up: u32,
    /// Its width as it lies.
    pub wide: u32,
    /// Its height as it lies.
    pub high: u32,
}

/// A cut from edge to edge of what is left in the hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cut {
    /// The piece that is cut: left, lower edge, width, height.
    pub piece: (u32, u32, u32, u32),
    /// Whether the cut runs up and down; else from left to right.
    pub upright: bool,
    /// Where the saw goes in, from the piece's left or lower edge.
    pub at: u32,
}

/// One sheet with its panels and the order of the cuts.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CutSheet {
    /// Panels.
    pub placed: Vec<Placed>,
    /// Cuts, one after the other.
    pub cuts: Vec<Cut>,
}

/// How the panels come out of sheets.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CutPlan {
    /// Sheet by sheet.
    pub sheets: Vec<CutSheet>,
    /// Whether fewer sheets can't do with such cuts.
    pub least: bool,
}

/// Why nothing can be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CutError {
    /// A side of nothing.
    #[error("a panel and a sheet need two sides above nothing")]
    NoSize,
    /// Larger than the sheet whichever way it is turned.
    #[error("a panel of {} x {} mm is larger than the sheet, whichever way it is turned", .0 / 10, .1 / 10)]
    TooLarge(u32, u32),
    /// Too many for a list.
    #[error("that is more than 500 panels; ask for a part of them")]
    TooMany,
}

/// Groups of panels that are looked at, at most; beyond, rows are laid.
const GROUPS: usize = 300;
/// Panels of a list, at most.
const MOST: u32 = 500;

/// A rectangle that holds a group, and what it is made of.
#[derive(Debug, Clone, Copy)]
struct Block {
    wide: u32,
    high: u32,
    made: Made,
}

#[derive(Debug, Clone, Copy)]
enum Made {
    One {
        size: usize,
    },
    /// Group and block of the left or lower part, and of the other.
    Two {
        upright: bool,
        first: (usize, usize),
        second: (usize, usize),
    },
}

/// Panels out of as few sheets as straight cuts from edge to edge allow.
///
/// # Errors
/// A size of nothing, a panel that no sheet holds, more than 500 panels.
///
/// ```
/// use making::{Panels, Sheet, cut_list};
/// // 244 x 122 cm holds five panels of 60 x 80 cm: three of 80 along the 244 with two cuts (240.6), and two of 60 across (120.3).
/// let sheet = Sheet { wide: 24_400, high: 12_200, kerf: 30 };
/// let plan = cut_list(&[Panels { wide: 6000, high: 8000, count: 5 }], sheet)?;
/// assert_eq!((plan.sheets.len(), plan.least), (1, true));
/// # Ok::<(), making::CutError>(())
/// ```
pub fn cut_list(panels: &[Panels], sheet: Sheet) -> Result<CutPlan, CutError> {
    if sheet.wide == 0 || sheet.high == 0 || panels.iter().any(|one| one.wide == 0 || one.high == 0) {
        return Err(CutError::NoSize);
    }
    let fits = |wide: u32, high: u32| wide <= sheet.wide && high <= sheet.high;
    if let Some(large) = panels.iter().find(|one| one.count > 0 && !fits(one.wide, one.high) && !fits(one.high, one.wide)) {
        return Err(CutError::TooLarge(large.wide, large.high));
    }
    if panels.iter().fold(0_u32, |sum, one| sum.saturating_add(one.count)) > MOST {
        return Err(CutError::TooMany);
    }
    let groups = panels.iter().try_fold(1_usize, |all, one| all.checked_mul(one.count as usize + 1)).unwrap_or(usize::MAX);
    if groups <= GROUPS
        && let Some(plan) = Groups::of(panels, sheet).plan()
    {
        return Ok(plan);
    }
    Ok(rows(panels, sheet))
}

/// All groups: a group is a number whose digits are how many of each size it holds.
struct Groups<'a> {
    panels: &'a [Panels],
    sheet: Sheet,
    /// The least rectangles of each group; none where it does not fit on one sheet.
    blocks: Vec<Vec<Block>>,
}

impl<'a> Groups<'a> {
    fn of(panels: &'a [Panels], sheet: Sheet) -> Self {
        let all = panels.iter().map(|one| one.count as usize + 1).product();
        let mut groups = Self { panels, sheet, blocks: vec![Vec::new(); all] };
        for group in 1..all {
            let found = groups.least(group);
            if let Some(place) = groups.blocks.get_mut(group) {
                *place = found;
            }
        }
        groups
    }

    fn counts(&self, mut group: usize) -> Vec<usize> {
        let digit = |one: &Panels| {
            let base = one.count as usize + 1;
            let count = group % base;
            group /= base;
            count
        };
        self.panels.iter().map(digit).collect()
    }

    /// Groups that are a part of this one, itself and nothing left out.
    fn parts(&self, group: usize) -> Vec<usize> {
        let whole = self.counts(group);
        (1..group).filter(|part| self.counts(*part).iter().zip(&whole).all(|(part, whole)| part <= whole)).collect()
    }

    fn least(&self, group: usize) -> Vec<Block> {
        let counts = self.counts(group);
        let mut found = Vec::new();
        if counts.iter().sum::<usize>() == 1
            && let Some((size, one)) = self.panels.iter().enumerate().zip(&counts).find(|(_, count)| **count == 1).map(|(panel, _)| panel)
        {
            for (wide, high) in [(one.wide, one.high), (one.high, one.wide)] {
                self.keep(&mut found, Block { wide, high, made: Made::One { size } });
            }
            return found;
        }
        for part in self.parts(group) {
            let other = group - part;
            let (Some(firsts), Some(seconds)) = (self.blocks.get(part).filter(|_| part <= other), self.blocks.get(other)) else { continue };
            for (at, first) in firsts.iter().enumerate() {
                for (beside, second) in seconds.iter().enumerate() {
                    let made = |upright| Made::Two { upright, first: (part, at), second: (other, beside) };
                    let kerf = self.sheet.kerf;
                    self.keep(
                        &mut found,
                        Block { wide: first.wide + kerf + second.wide, high: first.high.max(second.high), made: made(true) },
                    );
                    self.keep(
                        &mut found,
                        Block { wide: first.wide.max(second.wide), high: first.high + kerf + second.high, made: made(false) },
                    );
                }
            }
        }
        found
    }

    /// Keeps a rectangle that fits, unless another is as small both ways.
    fn keep(&self, found: &mut Vec<Block>, block: Block) {
        let fits = block.wide <= self.sheet.wide && block.high <= self.sheet.high;
        if !fits || found.iter().any(|known| known.wide <= block.wide && known.high <= block.high) {
            return;
        }
        found.retain(|known| known.wide < block.wide || known.high < block.high);
        found.push(block);
    }

    /// The fewest sheets: what is least for a group is one sheet and what is least for the rest.
    fn plan(&self) -> Option<CutPlan> {
        let mut least: Vec<(u32, usize)> = vec![(0, 0)];
        for group in 1..self.blocks.len() {
            let one = self.parts(group).into_iter().chain([group]);
            let on_one = one.filter(|part| self.blocks.get(*part).is_some_and(|blocks| !blocks.is_empty()));
            let ways = on_one.filter_map(|part| Some((least.get(group - part)?.0 + 1, usize::MAX - part)));
            let (sheets, part) = ways.min()?;
            least.push((sheets, usize::MAX - part));
        }
        let mut plan = CutPlan { sheets: Vec::new(), least: true };
        let mut group = self.blocks.len() - 1;
        while group > 0 {
            let (_, part) = *least.get(group)?;
            let mut sheet = CutSheet::default();
            self.lay(part, 0, (0, 0, self.sheet.wide, self.sheet.high), &mut sheet)?;
            plan.sheets.push(sheet);
            group -= part;
        }
        Some(plan)
    }

    /// Lays a block into a piece and writes down the cuts: first the waste off, then the parts from each other.
    fn lay(&self, group: usize, block: usize, piece: (u32, u32, u32, u32), sheet: &mut CutSheet) -> Option<()> {
        let block = *self.blocks.get(group)?.get(block)?;
        let (left, up, mut wide, high) = piece;
        if wide > block.wide {
            sheet.cuts.push(Cut { piece, upright: true, at: block.wide });
            wide = block.wide;
        }
        if high > block.high {
            sheet.cuts.push(Cut { piece: (left, up, wide, high), upright: false, at: block.high });
        }
        match block.made {
            Made::One { size } => sheet.placed.push(Placed { size, left, up, wide: block.wide, high: block.high }),
            Made::Two { upright, first, second } => {
                let part = *self.blocks.get(first.0)?.get(first.1)?;
                let at = if upright { part.wide } else { part.high };
                let kerf = self.sheet.kerf;
                sheet.cuts.push(Cut { piece: (left, up, block.wide, block.high), upright, at });
                let (one, other) = if upright {
                    ((left, up, at, block.high), (left + at + kerf, up, block.wide - at - kerf, block.high))
                } else {
                    ((left, up, block.wide, at), (left, up + at + kerf, block.wide, block.high - at - kerf))
                };
                self.lay(first.0, first.1, one, sheet)?;
                self.lay(second.0, second.1, other, sheet)?;
            }
        }
        Some(())
    }
}

/// A row of a sheet: lower edge, height, what is taken of the width.
type Row = (u32, u32, u32);

/// Rows of falling height: a good way for many panels of many sizes.
fn rows(panels: &[Panels], sheet: Sheet) -> CutPlan {
    let mut all: Vec<(usize, u32, u32)> = Vec::new();
    for (size, one) in panels.iter().enumerate() {
        // Lying down, where the sheet is wide enough for that.
        let (long, short) = (one.wide.max(one.high), one.wide.min(one.high));
        let (wide, high) = if long <= sheet.wide && short <= sheet.high { (long, short) } else { (short, long) };
        all.extend(std::iter::repeat_n((size, wide, high), one.count as usize));
    }
    all.sort_by_key(|(size, wide, high)| (std::cmp::Reverse(*high), std::cmp::Reverse(*wide), *size));
    let mut sheets: Vec<(CutSheet, Vec<Row>)> = Vec::new();
    for (size, wide, high) in all {
        let place = sheets.iter_mut().find_map(|(laid, rows)| {
            if let Some(row) = rows.iter_mut().find(|row| high <= row.1 && row.2 + wide <= sheet.wide) {
                let at = (row.2, row.0);
                row.2 += wide + sheet.kerf;
                return Some((laid, at));
            }
            let up = rows.last().map_or(0, |row| row.0 + row.1 + sheet.kerf);
            (up + high <= sheet.high).then(|| {
                rows.push((up, high, wide + sheet.kerf));
                (laid, (0, up))
            })
        });
        if let Some((laid, (left, up))) = place {
            laid.placed.push(Placed { size, left, up, wide, high });
        } else {
            let placed = vec![Placed { size, left: 0, up: 0, wide, high }];
            sheets.push((CutSheet { placed, cuts: Vec::new() }, vec![(0, high, wide + sheet.kerf)]));
        }
    }
    let mut out: Vec<CutSheet> = Vec::new();
    for (mut laid, rows) in sheets {
        for (up, high, _) in &rows {
            let left = sheet.high - up;
            if left > *high {
                laid.cuts.push(Cut { piece: (0, *up, sheet.wide, left), upright: false, at: *high });
            }
            for one in laid.placed.iter().filter(|one| one.up == *up) {
                let rest = (one.left, *up, sheet.wide - one.left, *high);
                if rest.2 > one.wide {
                    laid.cuts.push(Cut { piece: rest, upright: true, at: one.wide });
                }
                if *high > one.high {
                    laid.cuts.push(Cut { piece: (one.left, *up, one.wide, *high), upright: false, at: one.high });
                }
            }
        }
        out.push(laid);
    }
    // No fewer sheets than their surface asks for.
    let surface: u64 = panels.iter().map(|one| u64::from(one.wide) * u64::from(one.high) * u64::from(one.count)).sum();
    let bound = surface.div_ceil(u64::from(sheet.wide) * u64::from(sheet.high));
    CutPlan { least: out.len() as u64 <= bound, sheets: out }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sheet(wide: u32, high: u32, kerf: u32) -> Sheet {
        Sheet { wide, high, kerf }
    }

    fn one(wide: u32, high: u32, count: u32) -> Panels {
        Panels { wide, high, count }
    }

    /// All on the sheet, none over another with the kerf between, all of them there.
    fn sound(plan: &CutPlan, panels: &[Panels], sheet: Sheet) -> Result<(), TestCaseError> {
        for (size, asked) in panels.iter().enumerate() {
            let laid: Vec<&Placed> = plan.sheets.iter().flat_map(|one| &one.placed).filter(|one| one.size == size).collect();
            prop_assert_eq!(laid.len(), asked.count as usize);
            for one in laid {
                prop_assert!((one.wide, one.high) == (asked.wide, asked.high) || (one.high, one.wide) == (asked.wide, asked.high));
            }
        }
        for laid in &plan.sheets {
            for (at, a) in laid.placed.iter().enumerate() {
                prop_assert!(a.left + a.wide <= sheet.wide && a.up + a.high <= sheet.high, "{:?}", a);
                for b in &laid.placed[at + 1..] {
                    let apart = |one: u32, long: u32, other: u32| one + long + sheet.kerf <= other;
                    let clear = apart(a.left, a.wide, b.left)
                        || apart(b.left, b.wide, a.left)
                        || apart(a.up, a.high, b.up)
                        || apart(b.up, b.high, a.up);
                    prop_assert!(clear, "{:?} and {:?}", a, b);
                }
            }
            for cut in &laid.cuts {
                // No cut goes through a panel that lies in the piece.
                for panel in &laid.placed {
                    let (left, up, wide, high) = cut.piece;
                    let inside = panel.left >= left && panel.left < left + wide && panel.up >= up && panel.up < up + high;
                    let (from, to, saw) = if cut.upright {
                        (panel.left, panel.left + panel.wide, left + cut.at)
                    } else {
                        (panel.up, panel.up + panel.high, up + cut.at)
                    };
                    prop_assert!(!inside || to <= saw || from >= saw + sheet.kerf.min(from), "{:?} through {:?}", cut, panel);
                }
            }
        }
        Ok(())
    }

    #[test]
    fn by_hand() {
        // 122 x 244 cm, kerf 3 mm, 60 x 80 cm: along the 244 three of 80 (3 x 800 + 2 x 3 = 2406), across two of 60 (1203): six on a sheet.
        // Seven want a second one. Turned, four of 60 (2409) by one of 80: four.
        let large = sheet(24_400, 12_200, 30);
        for (count, sheets) in [(5, 1), (6, 1), (7, 2), (12, 2), (13, 3)] {
            let plan = cut_list(&[one(6000, 8000, count)], large).unwrap();
            assert_eq!((plan.sheets.len(), plan.least), (sheets, true), "{count}");
        }
        // Two of 50 want 100.3: the kerf makes the second sheet.
        assert_eq!(cut_list(&[one(500, 300, 2)], sheet(1000, 300, 3)).unwrap().sheets.len(), 2);
        assert_eq!(cut_list(&[one(500, 300, 2)], sheet(1000, 300, 0)).unwrap().sheets.len(), 1);
        // Four of 3 x 2 like the sails of a mill around a square of 1 fill 5 x 5, but every line from edge to edge, at 1, 2, 3 or 4, goes
        // through one of them: no such cut is there.
        assert_eq!(cut_list(&[one(3, 2, 4), one(1, 1, 1)], sheet(5, 5, 0)).unwrap().sheets.len(), 2);
    }

    #[test]
    fn what_can_t_be_cut_is_said() {
        assert_eq!(cut_list(&[one(6000, 8000, 1)], sheet(5000, 9000, 0)), Err(CutError::TooLarge(6000, 8000)));
        assert_eq!(cut_list(&[one(0, 8000, 1)], sheet(5000, 9000, 0)), Err(CutError::NoSize));
        assert_eq!(cut_list(&[one(1, 1, u32::MAX)], sheet(5, 5, 0)), Err(CutError::TooMany));
        assert_eq!(cut_list(&[], sheet(5, 5, 0)).map(|plan| plan.sheets.len()), Ok(0));
    }

    proptest! {
        #[test]
        fn every_plan_is_sound_and_rows_never_beat_the_least(
            sizes in prop::collection::vec((5_u32..60, 5_u32..60, 1_u32..4), 1..4), kerf in 0_u32..4,
        ) {
            let panels: Vec<Panels> = sizes.into_iter().map(|(wide, high, count)| one(wide, high, count)).collect();
            let sheet = sheet(100, 60, kerf);
            let plan = cut_list(&panels, sheet).unwrap();
            sound(&plan, &panels, sheet)?;
            let simple = rows(&panels, sheet);
            sound(&simple, &panels, sheet)?;
            prop_assert!(plan.least && plan.sheets.len() <= simple.sheets.len());
        }
    }
}
