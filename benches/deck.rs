//! What checking a folder costs against parsing its files alone: 20,000 items, in one file and in four. Prints ratios, since machines differ.
//!
//! `cargo bench --bench deck`
#![expect(clippy::print_stdout, reason = "printing is what it is for")]
#![expect(
    clippy::expect_used,
    reason = "without its decks there is nothing to measure"
)]

use std::fmt::Write as _;
use std::fs;
use std::hint::black_box;
use std::path::PathBuf;
use std::time::Instant;

use luxate::deck::{Reading, Settings, across};
use luxate::edge::decks::check_files;

const ITEMS: usize = 20_000;

fn main() {
    for files in [4, 1] {
        measure(files);
    }
}

fn measure(count: usize) {
    let decks: Vec<String> = (0..count)
        .map(|number| deck(number, ITEMS / count))
        .collect();
    let bytes: usize = decks.iter().map(String::len).sum();
    println!(
        "{ITEMS} items, {} MB; number of files: {count}",
        bytes / 1_000_000
    );
    let folder = tempfile::tempdir().expect("a folder for the decks");
    let files: Vec<PathBuf> = (0..count)
        .map(|number| folder.path().join(format!("bench-{number}.yaml")))
        .collect();
    for (file, deck) in files.iter().zip(&decks) {
        fs::write(file, deck).expect("room for the decks");
    }
    drop(decks);
    let before = memory("VmRSS:");
    let readings = check(&files);
    let flaws: usize = readings
        .iter()
        .map(|reading| reading.diagnostics.counts().total())
        .sum();
    drop(readings);
    match memory("VmHWM:").zip(before) {
        Some((peak, before)) => println!(
            "  peak memory over size of the files: {:.1} (goal: below 20)",
            ratio(peak.saturating_sub(before), bytes)
        ),
        None => println!("  peak memory: not told by this system"),
    }
    // Taken in turn, so that whatever else the machine does weighs on both.
    let mut ratios = Vec::new();
    for _ in 0..9 {
        let parse = timed(|| {
            for file in &files {
                let deck = fs::read(file).expect("it was written a moment ago");
                black_box(serde_yaml::from_slice::<serde_yaml::Value>(&deck).is_ok());
            }
        });
        let check = timed(|| drop(black_box(check(&files))));
        ratios.push(check / parse);
    }
    ratios.sort_by(f64::total_cmp);
    println!(
        "  time of check over serde_yaml alone: median {:.2}, {:.2} to {:.2} in 9 rounds (goal: at most 1.5); {flaws} findings",
        ratios[4], ratios[0], ratios[8]
    );
}

/// What `luxate deck check` does with a folder, but for telling it.
fn check(files: &[PathBuf]) -> Vec<Reading> {
    let mut readings: Vec<Reading> = check_files(files, Settings::default())
        .into_iter()
        .filter_map(Result::ok)
        .collect();
    across(&mut readings, &[]);
    readings
}

fn timed(run: impl FnOnce()) -> f64 {
    let start = Instant::now();
    run();
    start.elapsed().as_secs_f64()
}

#[expect(clippy::cast_precision_loss, reason = "sizes in bytes")]
fn ratio(one: usize, two: usize) -> f64 {
    one as f64 / two as f64
}

/// A line of this process's status, in bytes.
fn memory(name: &str) -> Option<usize> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix(name))?;
    Some(line.trim().trim_end_matches(" kB").parse::<usize>().ok()? * 1024)
}

/// A deck of items of ordinary length, no two alike.
fn deck(file: usize, items: usize) -> String {
    const NOUNS: [&str; 16] = [
        "elevator",
        "forceps",
        "socket",
        "suture",
        "flap",
        "papilla",
        "canal",
        "septum",
        "crest",
        "foramen",
        "ligament",
        "retractor",
        "chisel",
        "curette",
        "membrane",
        "follicle",
    ];
    const ACTS: [&str; 8] = [
        "seated",
        "turned",
        "lifted",
        "divided",
        "irrigated",
        "smoothed",
        "reflected",
        "inspected",
    ];
    const PLACES: [&str; 9] = [
        "buccally",
        "lingually",
        "mesially",
        "distally",
        "apically",
        "near the midline",
        "above the canal",
        "below the crest",
        "behind the tuberosity",
    ];
    let mut deck = format!(
        "deck: bench-{file}\ntitle: Made for a benchmark\nedition: \"2026-11-25\"\nlanguage: en\nlicence: CC-BY-4.0\n\
         topics:\n  - id: all\n    title: All\n    weight: 4\nsources:\n  - id: BENCH\n    cite: \"Made up. 2026\"\n    year: 2026\nitems:\n"
    );
    for item in 0..items {
        let number = file * ITEMS + item;
        let noun = |at: usize| NOUNS[(number / 3 + at * 5 + number % 7) % NOUNS.len()];
        let act = |at: usize| ACTS[(number / 5 + at * 3) % ACTS.len()];
        let place = |at: usize| PLACES[(number / 2 + at * 2) % PLACES.len()];
        // Writing to a string cannot fail.
        let _infallible = write!(
            deck,
            "  - id: item-{number}\n    topic: all\n    kind: single\n    \
             stem: A person of {age} has a {} that was {} {}. Which step keeps the {} {number} from harm?\n    options:\n      \
             - text: The {} is {} {} and left\n        key: true\n      \
             - text: The {} is {} {} and left\n        why: The {} lies elsewhere and would be torn by it.\n      \
             - text: The {} is {} {} and held\n        why: Nothing {} is gained, and time is lost.\n      \
             - text: The {} is {} {} and packed\n        why: \"It would hide the {}: nobody could see what bleeds.\"\n    \
             rationale: >\n      When the {} is {} {}, the {} keeps its blood supply, and the wound can be\n      closed without tension over sound bone.\n    \
             sources:\n      - BENCH p {age}\n",
            noun(0),
            act(0),
            place(0),
            noun(1),
            noun(2),
            act(1),
            place(1),
            noun(3),
            act(2),
            place(2),
            noun(4),
            noun(5),
            act(3),
            place(3),
            place(4),
            noun(6),
            act(4),
            place(0),
            noun(7),
            noun(8),
            act(5),
            place(2),
            noun(9),
            age = 20 + number % 60,
        );
    }
    deck
}
