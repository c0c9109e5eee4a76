//! Which keys each part of a deck may have, as data: the reader refuses the others and names what is missing.

/// A part of a deck.
pub(in crate::deck) struct Shape {
    /// How it is spoken of: "an item".
    pub(in crate::deck) what: &'static str,
    /// The keys it may have, in the order they are usually written.
    pub(in crate::deck) keys: &'static [Key],
}

/// A key of a part.
#[derive(Clone, Copy)]
pub(in crate::deck) struct Key {
    /// As written in the file.
    pub(in crate::deck) name: &'static str,
    /// Whether it must be there.
    pub(in crate::deck) must: bool,
    /// What it holds, as a phrase.
    pub(in crate::deck) holds: &'static str,
}

const fn must(name: &'static str, holds: &'static str) -> Key {
    Key {
        name,
        must: true,
        holds,
    }
}

const fn may(name: &'static str, holds: &'static str) -> Key {
    Key {
        name,
        must: false,
        holds,
    }
}

pub(in crate::deck) const DECK: Shape = Shape {
    what: "a deck",
    keys: &[
        must("deck", "the deck's id"),
        must("title", "its title, one line"),
        must("edition", "the date of this edition, \"YYYY-MM-DD\""),
        must("language", "a language tag (BCP 47), such as en"),
        must("licence", "an SPDX name, such as CC-BY-4.0"),
        must("topics", "the list of what the deck covers"),
        must("sources", "the list of what the deck rests on"),
        may(
            "beliefs",
            "the list of mistaken beliefs that distractors share",
        ),
        may(
            "diagrams",
            "the list of diagrams that locate items point into",
        ),
        must("items", "the list of items"),
    ],
};

pub(in crate::deck) const TOPIC: Shape = Shape {
    what: "a topic",
    keys: &[
        must("id", "the topic's id"),
        must("title", "its title, one line"),
        must("weight", "its share of the exam in per cent"),
    ],
};

pub(in crate::deck) const SOURCE: Shape = Shape {
    what: "a source",
    keys: &[
        must("id", "the short name that items cite"),
        must("cite", "the full reference"),
        must(
            "year",
            "the year of publication; for an undated page the year in which you read it, said in `cite`",
        ),
    ],
};

pub(in crate::deck) const BELIEF: Shape = Shape {
    what: "a belief",
    keys: &[
        must("id", "the belief's id"),
        must("text", "what is wrongly believed, as a sentence"),
    ],
};

/// What every item has; [`KINDS`] holds the rest.
pub(in crate::deck) const ITEM: Shape = Shape {
    what: "an item",
    keys: &[
        must("id", "the item's id, kept for good"),
        must("topic", "the id of a topic of this deck"),
        must(
            "kind",
            "how it is asked: single, multiple, order, match, short, numeric, locate, flap or case",
        ),
        must("stem", "the question"),
        may("wordings", "further stems of the same item"),
        must(
            "rationale",
            "why the key is right, in a few sentences that teach",
        ),
        must("sources", "what the item rests on, such as `- MANUAL p 12`"),
        may("safety", "true if a wrong answer could harm a patient"),
        may("caution", "what could go wrong for the patient"),
        may(
            "allow",
            "rules of item writing that it breaks on purpose, each with the reason",
        ),
    ],
};

/// What every part of a case has; [`KINDS`] holds the rest.
pub(in crate::deck) const PART: Shape = Shape {
    what: "a part",
    keys: &[
        must("id", "the part's id, unique in its case"),
        may("finding", "what has come to light by now"),
        must("kind", "how it is asked: any kind but case"),
        must("stem", "the question"),
        must(
            "rationale",
            "why the key is right, in a few sentences that teach",
        ),
        may(
            "sources",
            "what the part rests on, if not what the case does",
        ),
        may("safety", "true if a wrong answer could harm a patient"),
        may("caution", "what could go wrong for the patient"),
    ],
};

/// The keys that each kind of item has besides.
pub(in crate::deck) const KINDS: &[Shape] = &[
    Shape {
        what: "single",
        keys: &[
            must("options", "2 to 8 options, one of them the key"),
            may(
                "keep_order",
                "true if the order of the options carries meaning",
            ),
        ],
    },
    Shape {
        what: "multiple",
        keys: &[
            must("options", "2 to 8 options, one or more of them keys"),
            may(
                "keep_order",
                "true if the order of the options carries meaning",
            ),
        ],
    },
    Shape {
        what: "order",
        keys: &[must("steps", "3 to 8 steps in the right order")],
    },
    Shape {
        what: "match",
        keys: &[
            must("pairs", "2 to 8 pairs of `left` and `right`"),
            may("extra", "further rights that belong to none"),
        ],
    },
    Shape {
        what: "short",
        keys: &[
            must("accept", "the accepted forms, the one to be shown first"),
            may("refuse", "wrong answers that are to be expected"),
        ],
    },
    Shape {
        what: "numeric",
        keys: &[
            may("draw", "names, each with a range or a list to draw from"),
            may("rows", "a table of which one row is drawn"),
            may("derive", "names, each with the expression it follows from"),
            may("require", "the condition that a draw must meet to be asked"),
            must("answer", "the key as an expression"),
            may("round", "how the key is rounded, such as `down 1`"),
            may(
                "tolerance",
                "how far an answer may lie from the key, such as `1` or `2 %`",
            ),
            may("unit", "the unit of the key"),
            may("units", "other spellings of the unit"),
            may("allow_negative", "true if the key may be below 0"),
            may("slips", "typical errors"),
            must(
                "solution",
                "the way to the key, with `{name}` where a value is shown",
            ),
        ],
    },
    Shape {
        what: "locate",
        keys: &[
            must(
                "diagram",
                "the id of a diagram of this deck or of the program",
            ),
            must("key", "the name of the right place, or a list of them"),
            may(
                "places",
                "the places to choose from, if not all of the diagram",
            ),
            may("wrong", "what is to be said of wrong places"),
        ],
    },
    Shape {
        what: "flap",
        keys: &[
            must("case", "what is to be reached: jaw, side, site, bone"),
            must("show", "a sound design, such as 4ml r10@20 .. 6dl"),
            may("type", "the kind of flap asked for, if not any will do"),
            may(
                "thresholds",
                "numbers of the rules set otherwise, with their sources",
            ),
            may(
                "papilla_start",
                "the source by which a release may start at a papilla",
            ),
            may("decisive", "rules that decide here"),
            may("advisory", "rules that are a mere remark here"),
            may("slips", "what is to be said of typical errors"),
        ],
    },
    Shape {
        what: "case",
        keys: &[must(
            "parts",
            "2 to 8 parts in the order in which they are asked",
        )],
    },
];

pub(in crate::deck) const RANGE: Shape = Shape {
    what: "a range",
    keys: &[
        must("from", "the first value"),
        must("to", "the last value"),
        must("step", "from one value to the next"),
    ],
};

pub(in crate::deck) const SLIP: Shape = Shape {
    what: "a slip",
    keys: &[
        must("name", "what the error is called"),
        must("gives", "the number that whoever makes it gives"),
        must("why", "why that is wrong"),
        may("belief", "the id of the belief that it betrays"),
    ],
};

pub(in crate::deck) const OPTION: Shape = Shape {
    what: "an option",
    keys: &[
        must("text", "what the candidate reads"),
        may("key", "true on what is right"),
        may("why", "why it is right or wrong"),
        may("belief", "the id of the belief that choosing it betrays"),
    ],
};

pub(in crate::deck) const ALLOW: Shape = Shape {
    what: "an allowance",
    keys: &[
        must("rule", "the code of the rule, such as deck::absolute-term"),
        must("because", "why the item breaks it on purpose"),
    ],
};

pub(in crate::deck) const STEP: Shape = Shape {
    what: "a step",
    keys: &[
        must("text", "what the candidate reads"),
        may("why", "why it stands where it does"),
    ],
};

pub(in crate::deck) const PAIR: Shape = Shape {
    what: "a pair",
    keys: &[
        must("left", "what is given"),
        must("right", "what belongs to it"),
        may("why", "why"),
    ],
};

pub(in crate::deck) const EXTRA: Shape = Shape {
    what: "an extra right",
    keys: &[
        must("text", "what the candidate reads"),
        must("why", "why it belongs nowhere"),
    ],
};

pub(in crate::deck) const REFUSED: Shape = Shape {
    what: "a refused answer",
    keys: &[
        must("text", "the wrong term"),
        must("why", "why it is wrong"),
        may("belief", "the id of the belief that giving it betrays"),
    ],
};

pub(in crate::deck) const WRONG_PLACE: Shape = Shape {
    what: "a wrong place",
    keys: &[
        must("place", "its name"),
        must("why", "what whoever points to it has mistaken"),
        may("belief", "the id of the belief that pointing to it betrays"),
    ],
};

pub(in crate::deck) const FLAP_CASE: Shape = Shape {
    what: "a case",
    keys: &[
        must("jaw", "upper or lower"),
        must("side", "the patient's left or right"),
        may(
            "surface",
            "buccal, palatal or lingual; buccal if nothing is said",
        ),
        must("site", "the teeth to be reached, each 1 to 8, such as [5]"),
        must(
            "bone",
            "how deep bone is to be removed, such as {top: 2, bottom: 8}",
        ),
        may("missing", "teeth that are gone, such as [6]"),
        may(
            "defects",
            "bone lost already over a root, such as [{tooth: 3, top: 2, bottom: 9}]",
        ),
        may("eminences", "teeth whose roots stand out, such as [3]"),
        may(
            "attached",
            "how wide the attached gingiva is in this patient, mm",
        ),
        may(
            "spare_margin",
            "true if gingival margin and papillae are to be left alone",
        ),
    ],
};

pub(in crate::deck) const DEFECT: Shape = Shape {
    what: "a defect",
    keys: &[
        must("tooth", "over which root, 1 to 8"),
        must("top", "where it begins, mm below the neck"),
        must("bottom", "where it ends, mm below the neck"),
    ],
};

pub(in crate::deck) const BONE: Shape = Shape {
    what: "the bone to be removed",
    keys: &[
        must("top", "where it begins, mm below the neck"),
        must("bottom", "where it ends, mm below the neck"),
    ],
};

pub(in crate::deck) const THRESHOLD: Shape = Shape {
    what: "a threshold",
    keys: &[
        must("limit", "which number"),
        must("value", "its value"),
        must("source", "what it rests on, such as `MANUAL p 12`"),
    ],
};

pub(in crate::deck) const FLAP_SLIP: Shape = Shape {
    what: "a slip",
    keys: &[
        must("breaks", "the rule it breaks"),
        must("design", "a design that breaks it"),
        must("why", "what whoever draws it has mistaken"),
        may("belief", "the id of the belief that it betrays"),
    ],
};

/// Longest texts, in characters. They keep a question on a screen and a slip of the editor out of one.
pub(in crate::deck) mod longest {
    pub(in crate::deck) const ID: usize = 64;
    pub(in crate::deck) const LINE: usize = 200;
    pub(in crate::deck) const CITE: usize = 1_000;
    pub(in crate::deck) const STEM: usize = 3_000;
    pub(in crate::deck) const OPTION: usize = 500;
    pub(in crate::deck) const TERM: usize = 80;
    pub(in crate::deck) const REASON: usize = 4_000;
}
