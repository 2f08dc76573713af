//! How much a trial may hold. Wide for a studio, narrow for mischief.

/// Longest trial file, bytes.
pub const MOST_TEXT: usize = 64 * 1024;
/// Most boards, controls and all.
pub const MOST_BOARDS: usize = 2000;
/// Most settings.
pub const MOST_SETTINGS: usize = 12;
/// Most kinds or values of a setting.
pub const MOST_LEVELS: usize = 12;
/// Most parts of a blend.
pub const MOST_PARTS: usize = 12;
/// Most days.
pub const MOST_DAYS: u32 = 366;
/// Longest name, letters.
pub const MOST_NAME: usize = 60;
/// Names that mean something on a board.
pub const TAKEN: [&str; 11] = ["id", "day", "batch", "sheet", "order", "place", "kind", "job", "shares", "settings", "strips"];
