//! What people see: plain, serialisable views, the one writer of numbers, and pictures as SVG text for page and paper alike.
//! Nothing is computed here.
#![forbid(unsafe_code)]

mod answer;
mod answer_boards;
mod bend;
mod binder;
mod card;
mod curd;
mod data;
mod day;
mod enlarge;
mod even;
mod fridge;
mod glue;
mod hold;
mod jar;
mod kept;
mod look;
mod measures;
mod now;
mod now_strip;
mod now_words;
pub mod paper;
mod picture;
mod plan;
mod pot;
mod report;
mod save;
mod shelf;
mod shopping;
mod sight;
mod since;
mod trial;
mod window;
mod wish;
mod write;

pub use answer::{CauseView, CausesReport, CausesView, MilkReport, MilkView, MovedView, Portion, StepView, TapView};
pub use answer_boards::{
    AnswerReport, AnswerTangleReport, AnsweredMeasure, AskedReport, BoardsAnswerView, EffectReport, ExactReport, FitReport, GroupReport,
    MeasureReport, NewBoardReport, NextReport, ThresholdReport,
};
pub use bend::{BendRow, BendView, bend_address};
pub use binder::{
    BinderAsk, BinderKeeping, BinderMeasureRow, BinderRow, BinderStepState, BinderStepView, BinderStrength, BinderTimer, BinderUse,
    BinderView, BinderWait, BindersView,
};
pub use card::{
    Advice, Bar, Card, CautionView, ChoiceView, FigureRow, InputRow, LineView, PieceKind, PieceView, QuestionView, SectionView, Sheet,
    Tick, WordView,
};
pub use curd::{CurdChoice, CurdQuestion, CurdleReport, CurdleView, DissolveReport, DissolveView, InsteadReport};
pub use data::{BoardData, CoatData, DataView, IngredientData, LicenceView, MeasureView, ReadingData};
pub use day::{DayBoard, DayRound, DayStep, DayView, DayWay};
pub use enlarge::{EnlargeBatch, EnlargeLine, EnlargePanel, EnlargeReport, EnlargeSheet, EnlargeView};
pub use even::{EvenRow, EvenView};
pub use fridge::{AcidRow, BaseRow, FridgeView, RinseRow, StrengthRow, SwapRow, SwapView, YieldRow};
pub use glue::{GlueCoatReport, GlueCoatRow, GluePotReport, GluePotRow, GlueRatioReport, GlueReport, GlueView};
pub use hold::{BendReport, CrackReport, DrawdownView, HidingReport, MoverView, SaidView, ScatterReport, ThicknessView, ThirstReport};
pub use jar::{BesideReport, BookView, BooksReport, JarRow, JarView, JarsReport, PropertyRow};
pub use kept::{EntryRow, KeptRow, KeptView, LogView, VersionRow, shrunk};
pub use look::{
    ColourReport, CracksReport, DepthReport, DepthWords, FlakesReport, LabelReport, LatticeClassReport, LatticeReport, LookQuestion,
    LookReport, LookView, QualityReport, RatingReport, RelativeReport, RidgesReport, SeenTap, SightedReport, WidthReport,
};
pub use measures::measures;
pub use now::{DayNow, DryingView, NowBoard, NowDone, NowPot, NowStep, NowView, QuietLine, QuietNow, TapOutcome, TapsView};
pub use now_strip::strip_now;
pub use now_words::{heard_words, hold_words, hour, hour_and_day, spoken, too_early, wait_words, with_pot};
pub use picture::{
    BoardMark, BoardsAxis, BoardsRow, boards_picture, card_picture, drawdown_picture, in_ink, rule_picture, section_picture, standalone,
};
pub use picture::{
    DayStrip, LyingBoard, LyingBoards, LyingState, StripBlock, StripLife, StripPot, StripWait, WalkScene, clock_words, day_column_picture,
    day_strip_picture, lying_picture, walk_picture,
};
pub use picture::{SourPoint, SourView, sour_picture};
pub use picture::{movers_picture, window_picture};
pub use plan::{
    BetterReport, BoardReport, BoardRow, ColumnsReport, CriterionReport, ExtraReport, LeastReport, PlanReport, PlanView, RegionReport,
    SettingReport, SettingValue, TangleReport,
};
pub use pot::{PotAsked, PotLine, PotMassRow, PotMended, PotPage, RescueView, WalkFrame, WalkView};
pub use report::{
    AmountReport, CautionReport, ChoiceReport, FigureReport, FilmFigures, FilmReport, LineReport, MassReport, QuestionReport, StruckReport,
    WarningReport, WordReport,
};
pub use save::{FoamView, GoesRow, GoesView, SaveView};
pub use shelf::{JarChoice, OwnValue, ShelfJar, ShelfView};
pub use shopping::{ShoppingLine, ShoppingView, paid, weighed};
pub use sight::{FoundView, SightOf, SightView, TakenView, TrayPhoto, TrayView, path_of};
pub use since::{LaidReport, SinceCrack, SincePictures, SinceReport, SinceStroke, SinceView};
pub use trial::{
    BoardLine, BoardView, ClassChoice, CoatView, FinishedPaper, PhotoView, PlanCheck, PotView, ReadingSheet, ReadingView, RecipeText,
    RoadView, ScaleView, TangleView, TrialAnswerView, TrialRow, TrialsView,
};
pub use window::{WindowBoard, WindowColumn, WindowMark, WindowPanel, WindowPicture, WindowView, about_um};
pub use wish::{WishLine, WishReport, WishRounding, WishView};
pub use write::{Written, capital, kitchen, lasting, number, path_part, percent, plain, range, times, write};
