//! Places in a photo as they are typed, on a page or in a command.

use cracks::Patch;

/// Four corners in pixels, written as `10,12;990,14;985,700;8,702`.
///
/// # Errors
/// It is something else; the sentence says how it would be right.
///
/// ```
/// assert_eq!(workbench::four_corners("1,2; 3,4;5.5,6;7,-8"), Ok([(1.0, 2.0), (3.0, 4.0), (5.5, 6.0), (7.0, -8.0)]));
/// assert!(workbench::four_corners("1,2;3,4").is_err());
/// ```
pub fn four_corners(text: &str) -> Result<[(f64, f64); 4], String> {
    let wrong = || format!("`{}` is not four corners; write them as `10,12;990,14;985,700;8,702`", text.trim());
    let point = |pair: &str| {
        let (x, y) = pair.split_once(',').ok_or_else(wrong)?;
        let number = |part: &str| part.trim().parse::<f64>().ok().filter(|value| value.is_finite()).ok_or_else(wrong);
        Ok::<_, String>((number(x)?, number(y)?))
    };
    let points = text.split(';').map(point).collect::<Result<Vec<_>, _>>()?;
    points.try_into().map_err(|_| wrong())
}

/// A grey or white patch in pixels with the share of light that it throws back, written as `x,y,width,height=0.18`.
///
/// # Errors
/// It is something else; the sentence says how it would be right.
///
/// ```
/// assert_eq!(workbench::grey_patch("1,2,30,40=0,18").unwrap().place, [1, 2, 30, 40]);
/// assert!(workbench::grey_patch("1,2,30,40=18").is_err());
/// ```
pub fn grey_patch(text: &str) -> Result<Patch, String> {
    let read = || {
        let (place, reflects) = text.split_once('=')?;
        let place: Vec<u32> = place.split(',').map(|part| part.trim().parse().ok()).collect::<Option<_>>()?;
        let reflects = reflects.trim().replace(',', ".").parse().ok().filter(|share: &f64| (0.01..=1.0).contains(share))?;
        Some(Patch { place: place.try_into().ok()?, reflects })
    };
    read().ok_or_else(|| {
        format!(
            "`{}` is no patch; write it as `x,y,width,height=0.18`: where it lies, and the share of light that it throws back",
            text.trim()
        )
    })
}
