//! What is kept of a deck's texts once its rules were asked: enough to compare items with each other and words with
//! those of other decks, and little memory.

use std::collections::HashMap;

use super::asked::Asked;
use super::words::Prose;
use crate::deck::model::Body;
use crate::deck::yaml::Node;
use crate::source::Span;

/// A deck's items as sets of words.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    pub(super) deck: String,
    pub(super) is_english: bool,
    pub(super) items: Vec<Sketch>,
    /// Every longer word of stems and options, in lower case.
    pub(super) vocabulary: HashMap<String, Usage>,
}

/// An item as sets of words.
#[derive(Clone, Debug)]
pub(super) struct Sketch {
    pub(super) id: String,
    /// Where its stem stands.
    pub(super) span: Span,
    /// All words of the stem in order, as hashes.
    pub(super) stem_words: Vec<u32>,
    /// The words of the answer in order, as hashes; of a choice those of the key.
    pub(super) answer_words: Vec<u32>,
    /// What the stem is about, sorted, numbers included.
    pub(super) stem: Vec<u32>,
    /// What the answer and everything offered beside it are about, sorted, numbers included.
    pub(super) offered: Vec<u32>,
    /// What the answer is about.
    pub(super) answer: Vec<u32>,
    /// Rules over several decks that the item is freed of.
    pub(super) allowed: Vec<&'static str>,
}

/// How often a word is used.
#[derive(Clone, Debug)]
pub(super) struct Usage {
    pub(super) times: u32,
    /// Where first, and in which item.
    pub(super) span: Span,
    pub(super) item: usize,
}

/// Shortest word that is looked at for its spelling.
const SHORTEST: usize = 7;

impl Outline {
    /// Id of the deck; empty if it has none.
    #[must_use]
    pub fn deck(&self) -> &str {
        &self.deck
    }

    pub(super) fn new(deck: &str, is_english: bool) -> Self {
        Self {
            deck: deck.to_owned(),
            is_english,
            ..Self::default()
        }
    }

    /// Adds what a later part of the same deck holds.
    pub(super) fn append(&mut self, later: Self) {
        let before = self.items.len();
        self.items.extend(later.items);
        #[expect(clippy::iter_over_hash_type, reason = "sums, in whatever order")]
        for (word, mut usage) in later.vocabulary {
            let times = usage.times;
            usage.item += before;
            let known = self.vocabulary.entry(word);
            known
                .and_modify(|known| known.times += times)
                .or_insert(usage);
        }
    }

    /// Adds an item.
    pub(super) fn add(&mut self, asked: &Asked<'_>) {
        let Some(first) = asked.stems.first() else {
            return;
        };
        let mut offered = Vec::new();
        let mut answer = Vec::new();
        let mut answer_words = Vec::new();
        let mut take = |text: &Prose<'_>, is_answer: bool| {
            offered.extend(meant(text));
            if is_answer {
                answer.extend(meant(text));
                answer_words.extend(text.low().map(hash));
            }
        };
        match &asked.item.body {
            Body::Single(_) | Body::Multiple(_) => {
                for given in &asked.options {
                    take(&given.text, given.option.key);
                }
            }
            Body::Order(steps) => {
                for step in steps {
                    take(&Prose::new(&step.text), true);
                }
            }
            Body::Match(matching) => {
                for pair in &matching.pairs {
                    take(&Prose::new(&pair.left), true);
                    take(&Prose::new(&pair.right), true);
                }
            }
            // Parts lean on each other: two cases may ask the same of different patients.
            // Computed items of one family differ in their numbers, which no words tell.
            Body::Case(_) | Body::Numeric(_) | Body::Flap(_) => {}
            Body::Locate(locate) => {
                for (index, place) in locate.figure.places.iter().enumerate() {
                    take(&Prose::new(&place.name), locate.keys.contains(&index));
                }
            }
            Body::Short(short) => {
                for (index, form) in short.accept.iter().enumerate() {
                    take(&Prose::new(form), index == 0);
                }
            }
        }
        self.items.push(Sketch {
            id: asked.item.id.clone(),
            span: first.span,
            stem_words: first.text.low().map(hash).collect(),
            answer_words,
            stem: sorted(meant(&first.text)),
            offered: sorted(offered),
            answer: sorted(answer),
            allowed: allowed(asked),
        });
        self.learn(asked);
    }

    /// Counts the words of the item that was added last, or of a part of it.
    pub(super) fn learn(&mut self, asked: &Asked<'_>) {
        let item = self.items.len().saturating_sub(1);
        let stems = asked.stems.iter().map(|stem| (&stem.text, stem.span));
        let options = asked.options.iter().map(|given| (&given.text, given.span));
        let entries = entries(asked);
        let entries = entries.iter().map(|(text, span)| (text, *span));
        for (text, span) in stems.chain(options).chain(entries) {
            for word in &text.words {
                let is_long = word.low.len() >= SHORTEST
                    && word.low.bytes().all(|byte| byte.is_ascii_lowercase());
                if !is_long {
                    continue;
                }
                if let Some(usage) = self.vocabulary.get_mut(word.low.as_ref()) {
                    usage.times += 1;
                } else {
                    let span = asked.pin(span, word.raw);
                    let usage = Usage {
                        times: 1,
                        span,
                        item,
                    };
                    self.vocabulary.insert(word.low.clone().into_owned(), usage);
                }
            }
        }
    }
}

/// The rationale, the steps of an order and both sides of a match, with their places.
fn entries<'t>(asked: &Asked<'t>) -> Vec<(Prose<'t>, Span)> {
    let nodes = |key: &str| asked.node.get(key).map_or(&[][..], Node::nodes);
    let placed = |text: &'t str, node: &Node<'_>, key: &str| {
        let span = node.get(key).map_or(node.span, |text| text.span);
        (Prose::new(text), span)
    };
    let node = asked.node.get("rationale");
    let rationale = node.map(|node| (Prose::new(&asked.item.rationale), node.span));
    let mut entries: Vec<_> = rationale.into_iter().collect();
    match &asked.item.body {
        Body::Order(steps) => {
            let steps = steps.iter().zip(nodes("steps"));
            entries.extend(steps.map(|(step, node)| placed(&step.text, node, "text")));
        }
        Body::Match(matching) => {
            let pairs = matching.pairs.iter().zip(nodes("pairs"));
            entries.extend(pairs.flat_map(|(pair, node)| {
                [
                    placed(&pair.left, node, "left"),
                    placed(&pair.right, node, "right"),
                ]
            }));
        }
        _ => {}
    }
    entries
}

/// The rules over several decks that an item is freed of.
fn allowed(asked: &Asked<'_>) -> Vec<&'static str> {
    let Some(list) = asked.node.get("allow") else {
        return Vec::new();
    };
    let named = |code: &str| {
        list.nodes()
            .iter()
            .filter_map(|node| node.get("rule")?.text())
            .any(|rule| rule.trim() == code)
    };
    [
        super::near_duplicate::RULE.code,
        super::odd_spelling::RULE.code,
    ]
    .into_iter()
    .filter(|code| named(code))
    .collect()
}

/// What a text is about: its content words and numbers, as hashes.
fn meant(text: &Prose<'_>) -> Vec<u32> {
    let told = text.words.iter().filter_map(|word| {
        if word.low.bytes().any(|byte| byte.is_ascii_digit()) {
            Some(hash(&word.low))
        } else {
            word.root().map(hash)
        }
    });
    told.collect()
}

fn sorted(mut set: Vec<u32>) -> Vec<u32> {
    set.sort_unstable();
    set.dedup();
    set.shrink_to_fit();
    set
}

/// The FNV-1a hash of a word (Fowler, Noll & Vo 1991), folded into 32 bits.
pub(super) fn hash(word: &str) -> u32 {
    let hash = word.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    let folded = (hash >> 32) ^ (hash & 0xffff_ffff);
    u32::try_from(folded).unwrap_or_default()
}
