//! From the language of decks to a script: word by word, so that nothing passes that is not listed here.
//!
//! Every name is given a prefix and every number a decimal point on the way, so that no name can be a word of the script
//! language and no division can be one of whole numbers. Places in the script are led back to the text.

use std::fmt::Write as _;

use super::Unreadable;

/// Longest expression, in bytes.
pub const LONGEST: usize = 300;
/// Deepest nesting of brackets.
pub const DEEPEST: usize = 12;
/// Longest name.
const LONGEST_NAME: usize = 32;

/// Functions with the number of values they take.
pub const FUNCTIONS: [(&str, usize); 7] = [
    ("min", 2),
    ("max", 2),
    ("floor", 1),
    ("ceil", 1),
    ("round", 1),
    ("abs", 1),
    ("if", 3),
];

/// Words that join conditions, and what they are in the script.
const WORDS: [(&str, &str); 3] = [("and", "&&"), ("or", "||"), ("not", "!")];

/// Signs, longer ones first.
const SIGNS: [&str; 12] = [
    "<=", ">=", "==", "!=", "<", ">", "+", "-", "*", "/", "(", ")",
];

/// What is wrong with an expression.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Problem {
    /// Nothing is there.
    #[error("nothing is here")]
    Empty,
    /// It is longer than [`LONGEST`].
    #[error("an expression has at most {LONGEST} characters")]
    TooLong,
    /// Brackets are nested deeper than [`DEEPEST`].
    #[error("brackets are nested more than {DEEPEST} deep")]
    TooDeep,
    /// A character that has no meaning here.
    #[error("{0:?} has no meaning in an expression")]
    Character(char),
    /// Two signs run together that make none.
    #[error("`{0}` is no sign of an expression")]
    Sign(String),
    /// A number that cannot be read.
    #[error("`{0}` is no number")]
    Number(String),
    /// A function that does not exist.
    #[error("there is no function `{0}`")]
    Function(String),
    /// A function without its values.
    #[error("`{0}` is a function and takes its values in brackets")]
    Bare(String),
    /// A function with too many or too few values.
    #[error("`{name}` takes {wanted} values, not {found}")]
    Values {
        /// The function.
        name: &'static str,
        /// How many it takes.
        wanted: usize,
        /// How many it got.
        found: usize,
    },
    /// A comma outside a function.
    #[error("a comma belongs between the values of a function")]
    Comma,
    /// A bracket without its other half.
    #[error("this bracket has no other half")]
    Bracket,
    /// Everything else: two numbers in a row, a sign without its number.
    #[error("cannot be read from here on")]
    Order,
}

/// A script with its way back to the text.
pub(super) struct Translated {
    pub(super) script: String,
    pub(super) names: Vec<String>,
    /// For each word of the script: where it starts there, and the stretch of the text it stands for.
    words: Vec<(usize, usize, usize)>,
    length: usize,
}

impl Translated {
    /// The problem at a column (from 1) of the script; the end of the text if there is none.
    pub(super) fn unreadable(&self, column: Option<usize>) -> Unreadable {
        let at = column.map_or(usize::MAX, |column| column.saturating_sub(1));
        let word = self.words.iter().rev().find(|(start, ..)| *start <= at);
        let (start, end) = word
            .filter(|_| at < self.script.trim_end().len())
            .map_or((self.length, self.length), |&(_, start, end)| (start, end));
        let problem = Problem::Order;
        Unreadable {
            start,
            end,
            problem,
        }
    }
}

/// Whether a word can be the name of a value: a lower-case letter, then such letters, digits and `_`, and no function or
/// word of the language.
#[must_use]
pub fn is_name(word: &str) -> bool {
    word.len() <= LONGEST_NAME
        && word.starts_with(|first: char| first.is_ascii_lowercase())
        && word.bytes().all(is_name_byte)
        && !FUNCTIONS.iter().any(|(name, _)| *name == word)
        && !WORDS.iter().any(|(name, _)| *name == word)
}

const fn is_name_byte(byte: u8) -> bool {
    byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_'
}

/// An open bracket: where it stands, and the function whose values it holds.
struct Open {
    at: usize,
    function: Option<(&'static str, usize)>,
    values: usize,
}

struct Translator<'t> {
    text: &'t str,
    out: Translated,
    open: Vec<Open>,
}

pub(super) fn translate(text: &str) -> Result<Translated, Unreadable> {
    let whole = |problem| Unreadable {
        start: 0,
        end: text.len(),
        problem,
    };
    if text.trim().is_empty() {
        return Err(whole(Problem::Empty));
    }
    if text.len() > LONGEST {
        return Err(whole(Problem::TooLong));
    }
    let out = Translated {
        script: String::new(),
        names: Vec::new(),
        words: Vec::new(),
        length: text.len(),
    };
    let mut translator = Translator {
        text,
        out,
        open: Vec::new(),
    };
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        at = translator.next(at, rest)?;
    }
    match translator.open.last() {
        Some(open) => Err(Unreadable {
            start: open.at,
            end: open.at + 1,
            problem: Problem::Bracket,
        }),
        None => Ok(translator.out),
    }
}

impl Translator<'_> {
    /// Takes the next word and says where it ends.
    fn next(&mut self, at: usize, rest: &str) -> Result<usize, Unreadable> {
        let bytes = rest.as_bytes();
        let run = |is_part: fn(u8) -> bool| {
            let length = bytes.iter().position(|byte| !is_part(*byte));
            at + length.unwrap_or(bytes.len())
        };
        match bytes.first().copied().unwrap_or_default() {
            b' ' | b'\n' => Ok(at + 1),
            b'0'..=b'9' | b'.' => {
                let end = run(|byte| byte.is_ascii_alphanumeric() || byte == b'.' || byte == b'_');
                self.number(at, end)
            }
            b'a'..=b'z' | b'A'..=b'Z' | b'_' => {
                let end = run(|byte| byte.is_ascii_alphanumeric() || byte == b'_');
                self.word(at, end)
            }
            b',' => self.comma(at),
            _ => self.sign(at, rest),
        }
    }

    fn slice(&self, start: usize, end: usize) -> &str {
        self.text.get(start..end).unwrap_or_default()
    }

    fn wrong<T>(start: usize, end: usize, problem: Problem) -> Result<T, Unreadable> {
        Err(Unreadable {
            start,
            end,
            problem,
        })
    }

    fn put(&mut self, word: &str, start: usize, end: usize) {
        self.out.words.push((self.out.script.len(), start, end));
        self.out.script.push_str(word);
        // Nothing grows together, so `/ /` starts no comment.
        self.out.script.push(' ');
    }

    fn number(&mut self, start: usize, end: usize) -> Result<usize, Unreadable> {
        let text = self.slice(start, end).to_owned();
        let is_number = text
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'.')
            && text.len() <= 20
            && !text.ends_with('.');
        match text.parse::<f64>() {
            Ok(number) if is_number => {
                let mut word = String::new();
                // `{:?}` writes a whole number with its point.
                let _infallible = write!(word, "{number:?}");
                // Large ones come with an exponent, which the script reads as well.
                self.put(&word, start, end);
                Ok(end)
            }
            _ => Self::wrong(start, end, Problem::Number(text)),
        }
    }

    fn word(&mut self, start: usize, end: usize) -> Result<usize, Unreadable> {
        let word = self.slice(start, end).to_owned();
        let rest = self.slice(end, self.text.len());
        let bracket = rest.trim_start_matches(' ').starts_with('(');
        let function = FUNCTIONS.into_iter().find(|(name, _)| *name == word);
        if let Some((_, script)) = WORDS.iter().find(|(name, _)| *name == word) {
            self.put(script, start, end);
            return Ok(end);
        }
        match function {
            Some(function) if bracket => {
                let at = end + rest.len() - rest.trim_start_matches(' ').len();
                match function.0 {
                    // Written as the script's own branch, so that only one side is evaluated.
                    "if" => self.put("( if", start, end),
                    name => self.put(&format!("{name} ("), start, end),
                }
                self.push(at, Some(function))?;
                Ok(at + 1)
            }
            Some(_) => Self::wrong(start, end, Problem::Bare(word)),
            None if bracket => Self::wrong(start, end, Problem::Function(word)),
            None => {
                self.put(&format!("v_{word}"), start, end);
                if !self.out.names.contains(&word) {
                    self.out.names.push(word);
                }
                Ok(end)
            }
        }
    }

    fn push(
        &mut self,
        at: usize,
        function: Option<(&'static str, usize)>,
    ) -> Result<(), Unreadable> {
        if self.open.len() >= DEEPEST {
            return Self::wrong(at, at + 1, Problem::TooDeep);
        }
        self.open.push(Open {
            at,
            function,
            values: 1,
        });
        Ok(())
    }

    fn comma(&mut self, at: usize) -> Result<usize, Unreadable> {
        let Some(open) = self.open.last_mut().filter(|open| open.function.is_some()) else {
            return Self::wrong(at, at + 1, Problem::Comma);
        };
        open.values += 1;
        let script = match (open.function, open.values) {
            (Some(("if", _)), 2) => "{",
            (Some(("if", _)), 3) => "} else {",
            _ => ",",
        };
        self.put(script, at, at + 1);
        Ok(at + 1)
    }

    fn sign(&mut self, at: usize, rest: &str) -> Result<usize, Unreadable> {
        let Some(sign) = SIGNS.into_iter().find(|sign| rest.starts_with(sign)) else {
            let first = rest.chars().next().unwrap_or_default();
            let end = at + first.len_utf8();
            return Self::wrong(at, end, Problem::Character(first));
        };
        let end = at + sign.len();
        let doubled = rest.get(..sign.len() + 1).filter(|run| {
            [
                "**", "//", "/*", "*/", "++", "--", "<>", "<=>", "===", "!==", "=>",
            ]
            .contains(run)
        });
        if let Some(run) = doubled {
            return Self::wrong(at, at + run.len(), Problem::Sign(run.to_owned()));
        }
        match sign {
            "(" => {
                self.push(at, None)?;
                self.put(sign, at, end);
            }
            ")" => self.close(at)?,
            _ => self.put(sign, at, end),
        }
        Ok(end)
    }

    fn close(&mut self, at: usize) -> Result<(), Unreadable> {
        let Some(open) = self.open.pop() else {
            return Self::wrong(at, at + 1, Problem::Bracket);
        };
        if let Some((name, wanted)) = open.function
            && open.values != wanted
        {
            let found = open.values;
            let problem = Problem::Values {
                name,
                wanted,
                found,
            };
            return Self::wrong(open.at - name.len().min(open.at), at + 1, problem);
        }
        let script = match open.function {
            Some(("if", _)) => "} )",
            _ => ")",
        };
        self.put(script, at, at + 1);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::Expression;
    use super::*;

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let long = "1".repeat(LONGEST + 1);
        let deep = "(".repeat(DEEPEST + 1);
        for (text, wrong, problem) in [
            ("", "", Problem::Empty),
            ("  ", "  ", Problem::Empty),
            (long.as_str(), long.as_str(), Problem::TooLong),
            (deep.as_str(), "(", Problem::TooDeep),
            ("kg % 3", "%", Problem::Character('%')),
            ("kg × 3", "×", Problem::Character('×')),
            ("kg = 3", "=", Problem::Character('=')),
            ("\"a\"", "\"", Problem::Character('"')),
            ("{ 3 }", "{", Problem::Character('{')),
            ("2 ** 3", "**", Problem::Sign("**".into())),
            ("2 // 3", "//", Problem::Sign("//".into())),
            ("1.2.3", "1.2.3", Problem::Number("1.2.3".into())),
            ("1e9", "1e9", Problem::Number("1e9".into())),
            ("7kg", "7kg", Problem::Number("7kg".into())),
            ("sqrt(2)", "sqrt", Problem::Function("sqrt".into())),
            ("print(2)", "print", Problem::Function("print".into())),
            ("eval (2)", "eval", Problem::Function("eval".into())),
            ("min + 2", "min", Problem::Bare("min".into())),
            ("1, 2", ",", Problem::Comma),
            ("(1, 2)", ",", Problem::Comma),
            ("(1", "(", Problem::Bracket),
            ("1)", ")", Problem::Bracket),
            ("1 2", "2", Problem::Order),
            ("1 +", "", Problem::Order),
            ("1 + * 2", "*", Problem::Order),
            ("kg lb", "lb", Problem::Order),
            ("()", ")", Problem::Order),
        ] {
            let error = Expression::read(text).map(|_| ()).expect_err(text);
            assert_eq!(error.problem, problem, "{text}");
            assert_eq!(text.get(error.start..error.end), Some(wrong), "{text}");
        }
        let error = Expression::read("1 + min(2)").map(|_| ()).unwrap_err();
        assert_eq!((error.start, error.end), (4, 10));
        assert_eq!(error.to_string(), "`min` takes 2 values, not 1");
    }

    #[test]
    fn words_of_the_script_language_are_plain_names() {
        for text in [
            "let + 1",
            "loop * 2",
            "this",
            "true",
            "fn",
            "switch - 1",
            "global",
        ] {
            assert!(Expression::read(text).is_ok(), "{text}");
        }
        for text in [
            "let x = 3",
            "loop { }",
            "while true { 1 }",
            "|x| x",
            "x => 3",
            "x; y",
        ] {
            assert!(Expression::read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn names_are_lower_case() {
        for good in ["kg", "mg_each", "a1c"] {
            assert!(is_name(good), "{good}");
        }
        for bad in ["", "Kg", "1a", "_a", "min", "if", "and", "a-b", "ß"] {
            assert!(!is_name(bad), "{bad}");
        }
    }
}
