//! Any bytes as a deck: read, checked beside a known deck, told as text and as JSON, without a panic.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use luxate::cli::render::{self, Look};
use luxate::deck::{self, Outline, read_deck};
use luxate::report::findings;
use luxate::text;

static KNOWN: LazyLock<Vec<Outline>> = LazyLock::new(|| {
    let bytes = include_bytes!("../../tests/decks/good/all-kinds.yaml");
    vec![read_deck("known.yaml", bytes).outline]
});

fuzz_target!(|bytes: &[u8]| {
    let mut readings = [read_deck("fuzzed.yaml", bytes)];
    deck::across(&mut readings, &KNOWN);
    let [reading] = &readings;
    assert_eq!(reading.deck.is_none(), reading.diagnostics.has_errors());
    let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
    assert!(!said.chars().any(text::is_forbidden));
    let _json = findings::json(&readings).to_string();
});
