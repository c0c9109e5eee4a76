//! What is kept between starts beside the answers. Settings say how the program behaves, never what was answered.

/// Everything that can be set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// When the caution of the first start was read: RFC 3339, UTC.
    CautionRead,
    /// What drawings are made of: `auto`, or the word of the marks.
    Marks,
    /// Date of the exam, or `none`.
    Exam,
    /// Minutes of study a day.
    Minutes,
    /// Days of the week without study, or `none`.
    Rest,
    /// Pass mark in per cent, or `none`.
    Pass,
}

/// The word for leaving it to the program what drawings are made of.
pub const AUTO_MARKS: &str = "auto";

impl Setting {
    /// The name it is kept by.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::CautionRead => "caution-read",
            Self::Marks => "marks",
            Self::Exam => "exam",
            Self::Minutes => "minutes",
            Self::Rest => "rest",
            Self::Pass => "pass",
        }
    }
}
