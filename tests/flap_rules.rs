//! Every rule of flap design kept and broken, what it says, and what silences it.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot unwrap what it made has failed"
)]

use luxate::figure::teeth::{Jaw, Tooth};
use luxate::flap::{
    Aspect, Assessment, Bone, Case, Design, DesignError, Grade, Limit, Operation, Outcome,
    Quadrant, Rule, Thresholds, assess,
};

fn tooth(number: u8) -> Tooth {
    Tooth::new(number).unwrap()
}

fn operation(jaw: Jaw, aspect: Aspect, site: &[u8]) -> Operation {
    Operation {
        jaw,
        quadrant: Quadrant::Right,
        aspect,
        site: site.iter().map(|&number| tooth(number)).collect(),
        bone: Bone {
            top_mm: 2.0,
            bottom_mm: 8.0,
        },
        missing: Vec::new(),
    }
}

fn lower(site: u8) -> Operation {
    operation(Jaw::Lower, Aspect::Buccal, &[site])
}

fn upper(site: u8) -> Operation {
    operation(Jaw::Upper, Aspect::Buccal, &[site])
}

fn judged_by(table: Thresholds, operation: Operation, text: &str) -> Assessment {
    let design: Design = text.parse().unwrap();
    assess(&Case::new(operation, table).unwrap(), &design).unwrap()
}

fn judged(operation: Operation, text: &str) -> Assessment {
    judged_by(Thresholds::default(), operation, text)
}

fn outcome(assessment: &Assessment, rule: Rule) -> Outcome {
    assessment.finding(rule).unwrap().outcome
}

fn says(assessment: &Assessment, rule: Rule) -> &str {
    &assessment.finding(rule).unwrap().says
}

/// The rules that are worth a remark.
fn remarked(assessment: &Assessment) -> Vec<Rule> {
    let findings = assessment.findings.iter();
    let remarked = findings.filter(|finding| finding.outcome == Outcome::Remark);
    remarked.map(|finding| finding.rule).collect()
}

#[test]
fn sides_fail_alone_when_the_other_release_saves_the_base() {
    let leaning = judged(upper(6), "4ml r10@30 .. 8dl r10@-10");
    assert_eq!(leaning.failed(), [Rule::Sides]);
    assert_eq!(
        says(&leaning, Rule::Sides),
        "The distal release leans in as it runs apically; sides run parallel or spread to the base."
    );
}

#[test]
fn sides_that_meet_are_told_by_the_base_alone() {
    let meeting = judged(upper(4), "4ml r20@-30 .. 4dl r20@-30");
    assert!(meeting.figures.base_mm < 0.0);
    assert!(meeting.failed().contains(&Rule::Base));
    for rule in [Rule::Sides, Rule::Length, Rule::Breadth] {
        assert_eq!(outcome(&meeting, rule), Outcome::Told(Rule::Base), "{rule}");
    }
}

#[test]
fn a_long_flap_on_a_short_base() {
    let long = judged(upper(5), "5ml r15@0 .. 5dl");
    assert_eq!(outcome(&long, Rule::Length), Outcome::Fail);
    assert_eq!(outcome(&long, Rule::Breadth), Outcome::Told(Rule::Length));
    assert!(
        says(&long, Rule::Length)
            .starts_with("15.0 mm long on a base of 5.0 mm: more than twice as long as wide")
    );
    let longish = judged(upper(4), "3ml r20@0 .. 4dl");
    assert_eq!(outcome(&longish, Rule::Length), Outcome::Ok);
    assert_eq!(outcome(&longish, Rule::Breadth), Outcome::Remark);
}

#[test]
fn releases_start_at_line_angles() {
    let middle = judged(upper(5), "4mf r10@20 .. 6dl r10@10");
    assert_eq!(outcome(&middle, Rule::Start), Outcome::Fail);
    assert!(
        says(&middle, Rule::Start)
            .starts_with("The mesial release begins over the middle of the root of 4. Begin")
    );
    let both = judged(upper(5), "4mp r10@20 .. 6mf r10@20");
    assert!(says(&both, Rule::Start).contains("mesial papilla of 4. The distal release"));
    // An end without a release may lie anywhere.
    let envelope = judged(upper(5), "3mp .. 6dp");
    assert_eq!(outcome(&envelope, Rule::Start), Outcome::NotApplicable);
    assert!(envelope.is_sound());
}

#[test]
fn a_deck_may_let_releases_start_at_papillae() {
    let mut table = Thresholds::default();
    table.allow_papilla_start("Fragiskos 2007").unwrap();
    let papilla = judged_by(table.clone(), lower(5), "4mp r10@5 .. 6dl");
    assert!(papilla.is_sound());
    let basis = papilla.finding(Rule::Start).unwrap().basis.to_string();
    assert_eq!(basis, "Fragiskos 2007");
    // No text lets it start over the middle of a root.
    let middle = judged_by(table, lower(5), "4mf r10@5 .. 6dl");
    assert_eq!(outcome(&middle, Rule::Start), Outcome::Fail);
}

#[test]
fn the_canine_eminence_is_remarked_or_told() {
    let over = judged(upper(5), "4ml r15@40 .. 6dl");
    assert_eq!(outcome(&over, Rule::Eminence), Outcome::Remark);
    let middle = judged(upper(5), "3mf r10@0 .. 6dl");
    assert_eq!(outcome(&middle, Rule::Eminence), Outcome::Told(Rule::Start));
    let mut gone = upper(5);
    gone.missing = vec![tooth(3)];
    let over = judged(gone, "4ml r15@40 .. 6dl");
    assert_eq!(outcome(&over, Rule::Eminence), Outcome::NotApplicable);
}

#[test]
fn reach_counts_standing_teeth_only() {
    let mut without_5 = lower(6);
    without_5.missing = vec![tooth(5)];
    let short = judged(without_5.clone(), "4ml .. 7dl");
    assert_eq!(short.failed(), [Rule::Reach]);
    assert_eq!(short.figures.mesial_teeth, 1);
    let enough = judged(without_5, "3ml .. 7dl");
    assert!(enough.is_sound());

    let both_sides = judged(lower(6), "6ml .. 6dl");
    assert_eq!(
        says(&both_sides, Rule::Reach),
        "The margin frees no whole teeth mesial of the site; an envelope needs two. The margin frees no whole teeth distal of the site; an envelope needs one."
    );
    let released = judged(lower(4), "4ml r10@20 .. 5dl");
    assert!(says(&released, Rule::Reach).ends_with("a flap with a release needs one."));
    // A line angle inside the margin is not a whole tooth.
    assert_eq!(
        outcome(&judged(lower(6), "4mf .. 7dl"), Rule::Reach),
        Outcome::Fail
    );
}

#[test]
fn reach_asks_for_no_more_teeth_than_stand_there() {
    // Only the central incisor stands mesial of the lateral one; nothing stands distal of an upper third molar.
    assert_eq!(
        outcome(&judged(upper(2), "1ml .. 3dl"), Rule::Reach),
        Outcome::Ok
    );
    assert_eq!(
        outcome(&judged(upper(8), "6ml .. 8dl"), Rule::Reach),
        Outcome::Ok
    );
    let mut last = lower(6);
    last.missing = vec![tooth(7), tooth(8)];
    assert_eq!(
        outcome(&judged(last, "4ml .. 6dl"), Rule::Reach),
        Outcome::Ok
    );
    // The margin has to run past the site all the same.
    let before = judged(upper(8), "6ml .. 7dl");
    assert_eq!(before.failed(), [Rule::Reach]);
    assert_eq!(
        says(&before, Rule::Reach),
        "The margin ends before the back of the site."
    );
    let behind = judged(upper(2), "2mf .. 4dl");
    assert_eq!(
        says(&behind, Rule::Reach),
        "The margin begins behind the front of the site."
    );
}

#[test]
fn a_lower_third_molar_needs_a_limb_behind_the_second() {
    let without = judged(lower(8), "6mp .. 8dl");
    assert_eq!(without.failed(), [Rule::Reach]);
    assert!(says(&without, Rule::Reach).contains("add a distal limb"));
    let early = judged(lower(8), "4mp .. 6dl limb10@45");
    assert_eq!(early.failed(), [Rule::Reach]);
    assert!(says(&early, Rule::Reach).contains("in front of 7"));
    // A limb in front of a standing third molar does not serve, but does no harm to the count either.
    assert!(judged(lower(6), "4ml .. 7dl limb10@45").is_sound());
}

/// A limb replaces no tooth of the site but the buried third molar, and has to come near it. Places by hand: the third
/// molar begins at 54.25, the second ends at 51.75, the first at 41.5, the canine at 16.75.
#[test]
fn a_limb_serves_only_where_it_reaches_the_third_molar() {
    let cases: [(&[u8], &[u8], &str, &str); 9] = [
        (&[7, 8], &[], "4ml .. 6dl limb10@45", "in front of 7"),
        (&[6, 7, 8], &[], "3ml .. 5dl limb10@45", "in front of 6"),
        (
            &[7],
            &[8],
            "4ml .. 6dl limb10@45",
            "before the back of the site",
        ),
        (
            &[8],
            &[4, 5, 6, 7],
            "1ml .. 3dl limb10@45",
            "ends 30.4 mm in front of the third molar",
        ),
        (
            &[8],
            &[7],
            "4ml .. 6dl limb10@45",
            "ends 5.7 mm in front of the third molar",
        ),
        (
            &[8],
            &[],
            "6mp .. 7dl limb10@90",
            "ends 2.5 mm in front of the third molar",
        ),
        (
            &[8],
            &[],
            "6mp .. 7dl limb0.1@45",
            "The limb is 0.1 mm long; a cut up the ramus needs 5.",
        ),
        (
            &[8],
            &[],
            "6mp .. 7dl limb4.9@45",
            "The limb is 4.9 mm long",
        ),
        (&[8], &[7], "4ml .. 7ml limb10@45", "ends 3.4 mm"),
    ];
    for (site, missing, text, says_) in cases {
        let mut operation = operation(Jaw::Lower, Aspect::Buccal, site);
        operation.missing = missing.iter().map(|&number| tooth(number)).collect();
        let assessment = judged(operation, text);
        assert!(assessment.failed().contains(&Rule::Reach), "{text}");
        let told = says(&assessment, Rule::Reach);
        assert!(told.contains(says_), "{text}: {told}");
    }
    // Along the crest of the gap first, or with a limb that spans it, the third molar is laid open.
    let mut gap = lower(8);
    gap.missing = vec![tooth(7)];
    for text in [
        "5ml .. 7dl limb10@45",
        "5ml .. 7mf limb10@45",
        "5ml .. 6dl limb20@45",
    ] {
        assert!(judged(gap.clone(), text).is_sound(), "{text}");
    }
    assert!(judged(lower(8), "6mp .. 7dl limb5@45").is_sound());
    assert!(
        judged(
            operation(Jaw::Lower, Aspect::Buccal, &[7, 8]),
            "5ml .. 7dl limb10@45"
        )
        .is_sound()
    );
}

#[test]
fn a_limb_hangs_on_its_length_and_on_what_it_reaches() {
    let hangs = |text: &str| {
        judged(lower(8), text)
            .hangs_on()
            .map(|hanging| hanging.rule)
    };
    assert_eq!(hangs("6mp .. 7dl limb10@45"), None);
    for text in [
        "6mp .. 7dl limb5.5@45",
        "6mp .. 7dl limb4.5@45",
        // 51.75 + 6 cos 60 is 0.5 mm behind the front of the third molar.
        "6mp .. 7dl limb6@60",
        "6mp .. 7dl limb6@75",
    ] {
        assert_eq!(hangs(text), Some(Rule::Reach), "{text}");
    }
    // Without a limb no length turns the verdict.
    assert_eq!(hangs("6mp .. 7dl"), None);
}

/// A limit is cited if it decided; what asks for a limb is no count of teeth.
#[test]
fn reach_cites_what_decided() {
    let cited = |operation: Operation, text: &str| {
        let assessment = judged(operation, text);
        let finding = assessment.finding(Rule::Reach).unwrap().clone();
        assert_eq!(finding.outcome, Outcome::Fail, "{text}");
        let limit = finding.threshold.map(|threshold| threshold.limit);
        (limit, finding.basis)
    };
    let by_limb = Rule::Limb.basis();
    let (limit, basis) = cited(lower(8), "6ml .. 7dl");
    assert_eq!((limit, basis), (None, by_limb.clone()));
    let (limit, basis) = cited(lower(8), "6ml .. 7dl limb3@45");
    assert_eq!((limit, basis), (Some(Limit::LimbLength), by_limb));
    let teeth = [
        (lower(8), "7ml .. 7dl", Some(Limit::EnvelopeMesial)),
        (lower(6), "5ml .. 7dl", Some(Limit::EnvelopeMesial)),
        (lower(6), "4ml .. 6dl", Some(Limit::EnvelopeDistal)),
        (lower(5), "5dl r10@20 .. 5dp", Some(Limit::ReleasedDistal)),
        (upper(8), "6ml .. 7dl", None),
    ];
    for (operation, text, limit) in teeth {
        let (cited, basis) = cited(operation, text);
        assert_eq!((cited, basis), (limit, Rule::Reach.basis()), "{text}");
    }
}

#[test]
fn no_limb_in_the_upper_jaw() {
    let case = Case::new(upper(8), Thresholds::default()).unwrap();
    let design: Design = "6mp .. 8dl limb10@45".parse().unwrap();
    assert_eq!(assess(&case, &design), Err(DesignError::LimbInUpperJaw));
}

#[test]
fn the_limb_turns_buccally() {
    for (turn, kept) in [
        (45, true),
        (30, true),
        (20, false),
        (0, false),
        (-45, false),
    ] {
        let text = format!("6mp .. 7dl limb10@{turn}");
        let outcome = outcome(&judged(lower(8), &text), Rule::Limb);
        assert_eq!(outcome == Outcome::Ok, kept, "{turn}");
    }
    let lingual = judged(lower(8), "6mp .. 7dl limb10@-45");
    assert!(says(&lingual, Rule::Limb).contains("toward the lingual nerve"));
}

#[test]
fn a_release_reaches_the_bone_it_uncovers() {
    let short = judged(upper(5), "4ml r5@20 .. 6dl");
    assert_eq!(short.failed(), [Rule::Cover]);
    assert_eq!(
        says(&short, Rule::Cover),
        "The release ends 4.7 mm from the necks, the bone to be removed reaches 8."
    );
    // The offset of a submarginal cut counts.
    let mut deep = upper(5);
    deep.bone = Bone {
        top_mm: 9.0,
        bottom_mm: 11.0,
    };
    let mut table = Thresholds::default();
    table
        .set(Limit::JunctionUpper, 6.0, "as the item states")
        .unwrap();
    let submarginal = judged_by(table, deep, "4ml r10@0 .. 6dl r10@0 sub2");
    assert!(submarginal.is_sound(), "{:?}", submarginal.failed());
    assert_eq!(
        submarginal.name.to_string(),
        "submarginal with two releases (Ochsenbein-Luebke)"
    );
}

#[test]
fn a_submarginal_cut_lies_in_attached_gingiva_off_the_bone() {
    let mut deep = upper(5);
    deep.bone = Bone {
        top_mm: 9.0,
        bottom_mm: 11.0,
    };
    let with = |junction: f64, offset: f64| {
        let mut table = Thresholds::default();
        table
            .set(Limit::JunctionUpper, junction, "as the item states")
            .unwrap();
        judged_by(
            table,
            deep.clone(),
            &format!("4ml r12@10 .. 6dl r12@10 sub{offset}"),
        )
    };
    assert_eq!(with(6.0, 2.0).failed(), []);
    let narrow = with(3.5, 2.0);
    assert_eq!(narrow.failed(), [Rule::Attached]);
    assert_eq!(
        says(&narrow, Rule::Attached),
        "Attached gingiva is 2.5 mm wide; a cut inside it needs 3."
    );
    assert_eq!(with(6.0, 0.5).failed(), [Rule::Attached]);
    let below = with(6.0, 6.5);
    assert_eq!(below.failed(), [Rule::Sound, Rule::Attached]);
    assert!(says(&below, Rule::Attached).contains("past the mucogingival junction at 6"));
    assert!(says(&below, Rule::Sound).starts_with("The submarginal cut runs 2.5 mm"));
}

#[test]
fn a_release_over_the_bone_itself() {
    let over = judged(upper(5), "5mf r10@0 .. 6dl");
    assert!(says(&over, Rule::Sound).starts_with("The mesial release runs over the bone"));
    let foramen = judged(lower(6), "5mf r10@0 .. 7dl");
    assert!(says(&foramen, Rule::Mental).starts_with("The release runs over the mental foramen"));
}

#[test]
fn the_mental_foramen_matters_in_the_lower_jaw_from_the_buccal() {
    let lingual = operation(Jaw::Lower, Aspect::Lingual, &[4]);
    assert_eq!(
        outcome(&judged(lingual, "3ml r10@20 .. 5dl"), Rule::Mental),
        Outcome::NotApplicable
    );
    assert_eq!(
        outcome(&judged(upper(6), "5ml r12@20 .. 7dl"), Rule::Mental),
        Outcome::NotApplicable
    );
}

#[test]
fn on_the_palate_a_short_release_behind_the_canine_at_most() {
    let palate = || {
        let mut operation = operation(Jaw::Upper, Aspect::Palatal, &[6]);
        operation.bone = Bone {
            top_mm: 2.0,
            bottom_mm: 5.0,
        };
        operation
    };
    assert!(judged(palate(), "4ml r6@0 .. 7dl").is_sound());
    assert!(judged(palate(), "3dl r6@0 .. 7dl").is_sound());
    let long = judged(palate(), "4ml r8@0 .. 7dl");
    assert_eq!(long.failed(), [Rule::Palate]);
    let behind = judged(palate(), "5ml r6@0 .. 7dl");
    assert_eq!(behind.failed(), [Rule::Palate]);
    assert!(says(&behind, Rule::Palate).contains("greater palatine vessels"));
    let second = judged(palate(), "4ml r6@0 .. 7dl r6@0");
    assert_eq!(second.failed(), [Rule::Palate]);
    assert!(judged(palate(), "4ml .. 7dl").is_sound());
}

#[test]
fn no_lingual_release_by_the_molars() {
    let lingual = |site| operation(Jaw::Lower, Aspect::Lingual, &[site]);
    assert_eq!(
        judged(lingual(6), "4ml .. 7dl r10@0").failed(),
        [Rule::Lingual]
    );
    assert!(judged(lingual(6), "4ml r10@20 .. 7dl").is_sound());
    // It starts in front of the molars but its foot lies by them.
    assert_eq!(
        judged(lingual(4), "2ml .. 5dl r10@20").failed(),
        [Rule::Lingual]
    );
}

#[test]
fn past_the_vestibule_by_the_lower_molars_lies_the_facial_artery() {
    let front = judged(upper(5), "4ml r18@0 .. 6dl");
    assert!(front.is_sound());
    assert_eq!(remarked(&front), [Rule::Vestibule]);
    let molar = judged(lower(5), "4ml .. 6dl r16@0");
    assert_eq!(molar.failed(), [Rule::Vestibule]);
    let finding = molar.finding(Rule::Vestibule).unwrap();
    assert_eq!(finding.grade, Grade::Decisive);
    assert!(finding.says.contains("facial artery"));
    // No deck can make the artery a remark.
    let mut table = Thresholds::default();
    table.grade(Rule::Vestibule, Grade::Advisory).unwrap();
    assert!(!judged_by(table, lower(5), "4ml .. 6dl r16@0").is_sound());
    // In front of the molars it stays one.
    let front = judged(lower(5), "4ml r16@0 .. 6dl r10@0");
    assert_eq!(outcome(&front, Rule::Vestibule), Outcome::Remark);
}

#[test]
fn junction_and_frenum_are_remarked() {
    let mut shallow = upper(3);
    shallow.bone = Bone {
        top_mm: 1.0,
        bottom_mm: 2.0,
    };
    let short = judged(shallow, "2ml r4@0 .. 4dl");
    assert!(short.is_sound());
    assert_eq!(remarked(&short), [Rule::Junction]);
    let midline = judged(upper(3), "1ml r10@20 .. 4dl");
    assert!(midline.is_sound());
    assert_eq!(remarked(&midline), [Rule::Frenum]);
}

/// Where a deck makes them decide, no verdict of theirs hangs within a millimetre unseen: the corner 1ml lies 0.75 mm from
/// the midline, and a release of 4 mm ends 0.3 mm past the junction at 3.7.
#[test]
fn junction_and_frenum_hang_on_what_they_measure() {
    let decisive = |rule, operation, text: &str| {
        let mut table = Thresholds::default();
        table.grade(rule, Grade::Decisive).unwrap();
        judged_by(table, operation, text)
    };
    let frenum = decisive(Rule::Frenum, upper(3), "1ml r12@0 .. 4dl r12@15");
    assert_eq!(frenum.failed(), [Rule::Frenum]);
    let hanging = frenum.hangs_on().unwrap();
    assert_eq!(hanging.rule, Rule::Frenum);
    assert!((hanging.slack_mm - 0.25).abs() < 1e-9);
    let mut shallow = lower(6);
    shallow.bone = Bone {
        top_mm: 1.0,
        bottom_mm: 2.0,
    };
    let junction = decisive(Rule::Junction, shallow.clone(), "4ml r4@0 .. 7dl");
    assert!(junction.is_sound(), "{:?}", junction.failed());
    let hanging = junction.hangs_on().unwrap();
    assert_eq!(hanging.rule, Rule::Junction);
    assert!((hanging.slack_mm - 0.3).abs() < 1e-9);
    // A remark turns no verdict.
    assert_eq!(judged(shallow, "4ml r4@0 .. 7dl").hangs_on(), None);
}

/// The palate is attached all over; a cut inside it has to keep off the sulcus and uncover the bone.
#[test]
fn no_mucogingival_junction_bounds_a_cut_on_the_palate() {
    let mut palate = operation(Jaw::Upper, Aspect::Palatal, &[3]);
    palate.bone = Bone {
        top_mm: 12.0,
        bottom_mm: 14.0,
    };
    let deep = judged(palate.clone(), "1ml .. 5dl sub5");
    assert!(deep.is_sound(), "{:?}", deep.failed());
    assert_eq!(
        says(&deep, Rule::Attached),
        "The cut runs 5.0 mm from the necks, clear of the sulcus."
    );
    let cited = deep.finding(Rule::Attached).unwrap().threshold.clone();
    assert_eq!(cited.unwrap().limit, Limit::Offset);
    let near = judged(palate.clone(), "1ml .. 5dl sub0.5");
    assert_eq!(near.failed(), [Rule::Attached]);
    // A flap that begins beyond the bone does not lay it open.
    palate.bone = Bone {
        top_mm: 1.0,
        bottom_mm: 2.0,
    };
    let past = judged(palate, "1ml .. 5dl sub9");
    assert_eq!(past.failed(), [Rule::Cover]);
    assert_eq!(
        says(&past, Rule::Cover),
        "The cut runs 9.0 mm from the necks, past the bone to be removed, which reaches 2 and stays covered."
    );
}

/// A release that is on the wrong place of the palate is not too long.
#[test]
fn the_palate_cites_its_length_where_length_decided() {
    let mut palate = operation(Jaw::Upper, Aspect::Palatal, &[6]);
    palate.bone.bottom_mm = 5.0;
    for (text, limit) in [
        ("5ml r6@0 .. 7dl", None),
        ("4ml r8@0 .. 7dl", Some(Limit::Palate)),
    ] {
        let cut = judged(palate.clone(), text);
        let finding = cut.finding(Rule::Palate).unwrap();
        assert_eq!(finding.outcome, Outcome::Fail);
        let cited = finding.threshold.as_ref();
        assert_eq!(cited.map(|threshold| threshold.limit), limit, "{text}");
    }
}

/// Without a release a flap is raised from the cut to the bottom of the bone.
#[test]
fn a_submarginal_cut_is_raised_from_where_it_starts() {
    let mut deep = upper(5);
    deep.bone = Bone {
        top_mm: 9.0,
        bottom_mm: 11.0,
    };
    let figures = judged(deep, "3ml .. 6dl sub2").figures;
    assert!((figures.length_mm - 9.0).abs() < 1e-9);
}

#[test]
fn a_deck_moves_a_threshold_and_is_named() {
    let mut table = Thresholds::default();
    table.set(Limit::Bone, 5.0, "Class notes 2026").unwrap();
    let assessment = judged_by(table, lower(3), "2ml r10@10 .. 4dl");
    assert!(assessment.is_sound());
    let threshold = assessment
        .finding(Rule::Sound)
        .unwrap()
        .threshold
        .clone()
        .unwrap();
    assert_eq!(threshold.basis.to_string(), "Class notes 2026");
    let hanging = assessment.hangs_on().unwrap();
    assert_eq!(hanging.rule, Rule::Sound);
}

#[test]
fn a_deck_grades_a_rule_and_the_verdict_follows() {
    let mut strict = Thresholds::default();
    strict.grade(Rule::Eminence, Grade::Decisive).unwrap();
    let over = judged_by(strict, upper(5), "4ml r15@40 .. 6dl");
    assert_eq!(over.failed(), [Rule::Eminence]);
    let mut mild = Thresholds::default();
    mild.grade(Rule::Start, Grade::Advisory).unwrap();
    let papilla = judged_by(mild, lower(5), "4mp r10@5 .. 6dl");
    assert!(papilla.is_sound());
    assert_eq!(remarked(&papilla), [Rule::Start]);
}

#[test]
fn a_reveal_begins_with_what_decides() {
    let assessment = judged(lower(6), "5mp r15@20 .. 7dl");
    let outcomes: Vec<Outcome> = assessment.revealed().map(|f| f.outcome).collect();
    let first_kept = outcomes.iter().position(|&o| o == Outcome::Ok).unwrap();
    assert!(outcomes[..first_kept].iter().all(|&o| o != Outcome::Ok));
    assert_eq!(outcomes[0], Outcome::Fail);
    let every = assessment.revealed().count();
    let silent = assessment
        .findings
        .iter()
        .filter(|f| matches!(f.outcome, Outcome::NotApplicable | Outcome::Told(_)));
    assert_eq!(every + silent.count(), Rule::ALL.len());
}

#[test]
fn several_teeth_make_one_site() {
    let bridge = operation(Jaw::Lower, Aspect::Buccal, &[5, 4]);
    let assessment = judged(bridge, "2ml .. 6dl");
    assert!(assessment.is_sound());
    let figures = &assessment.figures;
    assert_eq!((figures.mesial_teeth, figures.distal_teeth), (2, 1));
}
