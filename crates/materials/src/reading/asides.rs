//! What a line says aside: bullets and numbering, remarks behind `#`, words crossed out, older versions quoted in a letter.

use super::items::{Item, What};
use super::tokens::{Kind, Mark, Token};

/// Takes numbering out of the numbers and mutes remarks, crossings-out and quoted older text.
pub(super) fn settle(items: &mut [Item], tokens: &[Token], text: &str) {
    line_starts(items, tokens, text);
    quotes(items, tokens, text);
}

fn line_starts(items: &mut [Item], tokens: &[Token], text: &str) {
    let mut fresh = true;
    let (mut remark, mut crossed) = (false, false);
    for at in 0..items.len() {
        let next_mark = items.get(at + 1).map(|item| (item.what.clone(), item.tight));
        let after = items.get(at + 2).map(|item| (item.tight, matches!(item.what, What::Break(_))));
        let Some(item) = items.get_mut(at) else { break };
        match &item.what {
            What::Break(_) => {
                fresh = true;
                remark = false;
                crossed = false;
                continue;
            }
            What::Mark(Mark::Hash) => {
                let numbered = tokens
                    .get(item.first)
                    .is_some_and(|token| text.get(token.to..).unwrap_or("").starts_with(|c: char| c.is_ascii_digit()));
                remark = remark || !numbered;
            }
            What::Mark(Mark::Strike) => crossed = !crossed,
            What::Number(number) if fresh => {
                let numbering = matches!(next_mark, Some((What::Mark(Mark::Stop | Mark::Close), true)))
                    && after.is_some_and(|(tight, ends)| !tight && !ends);
                let clock = number.plain_digits == 4
                    && number.low < 2400.0
                    && text.get(tokens.get(item.first).map_or(0, |t| t.from)..).is_some_and(|t| t.starts_with('0'));
                if number.low < 100.0 && numbering || clock {
                    item.what = What::Code;
                }
            }
            _ => {}
        }
        fresh = fresh
            && matches!(item.what, What::Mark(Mark::Dash | Mark::Plus | Mark::Open | Mark::Times | Mark::Pipe | Mark::Other | Mark::Hash));
        item.muted = remark || crossed;
    }
}

/// Lines of a letter that stand deeper in quotation than others with numbers are an older version.
fn quotes(items: &mut [Item], tokens: &[Token], text: &str) {
    let Some(least) = lines(items).filter(|range| holds_number(items, range)).map(|range| depth(items, range.clone(), tokens, text)).min()
    else {
        return;
    };
    let deeper: Vec<_> = lines(items).filter(|range| depth(items, range.clone(), tokens, text) > least).collect();
    for range in deeper {
        for item in items.get_mut(range).unwrap_or_default() {
            item.muted = true;
        }
    }
}

/// The items of each line.
fn lines(items: &[Item]) -> impl Iterator<Item = std::ops::Range<usize>> + '_ {
    let mut start = 0;
    std::iter::from_fn(move || {
        if start >= items.len() {
            return None;
        }
        let end = items
            .iter()
            .enumerate()
            .skip(start)
            .find(|(_, item)| matches!(item.what, What::Break(_)))
            .map_or(items.len(), |(at, _)| at + 1);
        let range = start..end;
        start = end;
        Some(range)
    })
}

fn holds_number(items: &[Item], range: &std::ops::Range<usize>) -> bool {
    items.get(range.clone()).unwrap_or_default().iter().any(|item| matches!(item.what, What::Number(_)))
}

/// How many `>` a line begins with.
fn depth(items: &[Item], range: std::ops::Range<usize>, tokens: &[Token], text: &str) -> usize {
    let quoted = |item: &Item| {
        let token = tokens.get(item.first).filter(|token| token.kind == Kind::Mark(Mark::Other))?;
        text.get(token.from..token.to).filter(|run| run.bytes().all(|b| b == b'>')).map(str::len)
    };
    items.get(range).unwrap_or_default().iter().map_while(quoted).sum()
}
