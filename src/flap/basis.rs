//! What a rule or a number rests on, said openly: read, recalled, custom or our own choice.

use std::fmt;

pub(super) const ALFOTAWI_HUPP: &str = "AlFotawi RA 2020; Hupp JR, Ellis E, Tucker MR 2019";
pub(super) const HUPP_RESTATED: &str =
    "Hupp JR, Ellis E, Tucker MR 2019, as teaching pages restate it";
pub(super) const HUPP_147: &str = "Hupp JR, Ellis E, Tucker MR 2019, p 147";
pub(super) const PETERSON_8: &str = "Peterson LJ et al. (eds) 1998/2003, chapter 8, figure caption";

/// What a rule or a threshold rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Read in this publication, or in a page that restates it (then it says so).
    Read(&'static str),
    /// Recalled from this publication; the page was not seen.
    FromMemory(&'static str),
    /// Clinical custom without a single owner.
    CommonPractice,
    /// Chosen for this program.
    Assumption,
    /// Given by the deck, with the source that it names.
    Deck(String),
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(source) => f.write_str(source),
            Self::FromMemory(source) => write!(f, "{source} (from memory)"),
            Self::CommonPractice => f.write_str("common practice"),
            Self::Assumption => f.write_str("our assumption"),
            Self::Deck(source) => f.write_str(source),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_recalled_source_is_marked() {
        let recalled = Basis::FromMemory("Hupp 2019");
        assert_eq!(recalled.to_string(), "Hupp 2019 (from memory)");
    }
}
