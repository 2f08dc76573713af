//! What people see: plain, serialisable views, the one writer of numbers, and pictures as SVG text for page and paper alike.
//! Nothing is computed here.
#![forbid(unsafe_code)]

mod answer;
mod answer_boards;
mod card;
mod curd;
mod data;
mod jar;
mod kept;
mod measures;
pub mod paper;
mod picture;
mod plan;
mod report;
mod shelf;
mod trial;
mod write;

pub use answer::{CauseView, CausesReport, CausesView, MilkReport, MilkView, MovedView, Portion, StepView, TapView};
pub use answer_boards::{
    AnswerReport, AnswerTangleReport, AnsweredMeasure, AskedReport, BoardsAnswerView, EffectReport, ExactReport, FitReport, GroupReport,
    MeasureReport, NewBoardReport, NextReport, ThresholdReport,
};
pub use card::{
    Advice, Bar, Card, CautionView, ChoiceView, FigureRow, InputRow, LineView, PieceKind, PieceView, QuestionView, SectionView, Sheet,
    Tick, WordView,
};
pub use curd::{CurdChoice, CurdQuestion, CurdleReport, CurdleView, DissolveReport, DissolveView, InsteadReport};
pub use data::{BoardData, CoatData, DataView, IngredientData, LicenceView, MeasureView, ReadingData};
pub use jar::{BesideReport, BookView, BooksReport, JarRow, JarView, JarsReport, PropertyRow};
pub use kept::{EntryRow, KeptRow, KeptView, LogView, VersionRow, shrunk};
pub use measures::measures;
pub use picture::{BoardMark, BoardsAxis, BoardsRow, boards_picture, card_picture, rule_picture, section_picture, standalone};
pub use plan::{
    BetterReport, BoardReport, BoardRow, ColumnsReport, CriterionReport, ExtraReport, LeastReport, PlanReport, PlanView, RegionReport,
    SettingReport, SettingValue, TangleReport,
};
pub use report::{
    AmountReport, CautionReport, ChoiceReport, FigureReport, FilmFigures, FilmReport, LineReport, MassReport, QuestionReport, StruckReport,
    WarningReport, WordReport,
};
pub use shelf::{JarChoice, OwnValue, ShelfJar, ShelfView};
pub use trial::{
    BoardLine, BoardView, ClassChoice, CoatView, FinishedPaper, PhotoView, PlanCheck, PotView, ReadingSheet, ReadingView, RecipeText,
    RoadView, ScaleView, TangleView, TrialAnswerView, TrialRow, TrialsView,
};
pub use write::{Written, capital, kitchen, number, percent, plain, range, times, write};
