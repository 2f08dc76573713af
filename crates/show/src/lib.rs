//! What people see: plain, serialisable views, the one writer of numbers, and pictures as SVG text for page and paper alike.
//! Nothing is computed here.
#![forbid(unsafe_code)]

mod answer;
mod answer_boards;
mod card;
mod jar;
mod picture;
mod report;
mod write;

pub use answer::{CauseView, CausesReport, CausesView, MilkReport, MilkView, MovedView, Portion, StepView, TapView};
pub use answer_boards::{
    AnswerReport, BetterReport, BoardsAnswerView, EffectReport, ExactReport, FitReport, GroupReport, MeasureReport, MeasureView,
    NewBoardReport, NextReport, TangleReport, ThresholdReport,
};
pub use card::{
    Advice, Bar, Card, CautionView, ChoiceView, FigureRow, InputRow, LineView, PieceKind, PieceView, QuestionView, SectionView, Sheet,
    Tick, WordView,
};
pub use jar::{BesideReport, BookView, BooksReport, JarRow, JarView, JarsReport, PropertyRow};
pub use picture::{BoardMark, BoardsAxis, BoardsRow, boards_picture, card_picture, rule_picture, section_picture, standalone};
pub use report::{
    AmountReport, CautionReport, ChoiceReport, FigureReport, FilmFigures, FilmReport, LineReport, MassReport, QuestionReport, StruckReport,
    WarningReport, WordReport,
};
pub use write::{Written, capital, kitchen, number, percent, plain, range, times, write};
