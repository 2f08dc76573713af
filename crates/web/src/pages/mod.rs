//! A module a page.

pub(crate) mod answer;
pub(crate) mod beside;
pub(crate) mod board;
pub(crate) mod books;
pub(crate) mod card;
pub(crate) mod day;
pub(crate) mod example;
pub(crate) mod failed;
pub(crate) mod front;
pub(crate) mod jars;
pub(crate) mod kept;
pub(crate) mod looks;
pub(crate) mod milk;
pub(crate) mod notebook;
pub(crate) mod now;
pub(crate) mod pair;
pub(crate) mod paper;
pub(crate) mod photo;
pub(crate) mod pot;
pub(crate) mod reading;
pub(crate) mod road;
pub(crate) mod share;
pub(crate) mod shelf;
pub(crate) mod trials;
pub(crate) mod verdict;
pub(crate) mod walk;
