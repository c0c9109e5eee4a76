//! What a case says of bone that is gone, of roots that stand out and of the gingiva, and how designs are judged by it.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot unwrap what it made has failed"
)]

use luxate::figure::teeth::{Jaw, Tooth};
use luxate::flap::words::describe_case;
use luxate::flap::{
    Aspect, Assessment, Bone, Case, CaseError, Defect, Grade, Limit, Operation, Outcome, Quadrant,
    Rule, Surroundings, Thresholds, assess,
};

fn tooth(number: u8) -> Tooth {
    Tooth::new(number).unwrap()
}

fn bone(top_mm: f64, bottom_mm: f64) -> Bone {
    Bone { top_mm, bottom_mm }
}

fn case(jaw: Jaw, site: u8, bone: Bone) -> Case {
    let operation = Operation {
        jaw,
        quadrant: Quadrant::Left,
        aspect: Aspect::Buccal,
        site: vec![tooth(site)],
        bone,
        missing: vec![tooth(8)],
    };
    Case::new(operation, Thresholds::default()).unwrap()
}

fn with_defect(over: u8, bone: Bone) -> Surroundings {
    Surroundings {
        defects: vec![Defect {
            tooth: tooth(over),
            bone,
        }],
        ..Surroundings::default()
    }
}

fn judged(case: &Case, text: &str) -> Assessment {
    assess(case, &text.parse().unwrap()).unwrap()
}

fn says(assessment: &Assessment, rule: Rule) -> &str {
    &assessment.finding(rule).unwrap().says
}

fn outcome(assessment: &Assessment, rule: Rule) -> Outcome {
    assessment.finding(rule).unwrap().outcome
}

/// The rules that are worth a remark.
fn remarked(assessment: &Assessment) -> Vec<Rule> {
    let findings = assessment.findings.iter();
    let remarked = findings.filter(|finding| finding.outcome == Outcome::Remark);
    remarked.map(|finding| finding.rule).collect()
}

/// By hand: the corner (18.5, 1) of the defect is nearest to the start (11.25, 0) of a release that slants away from it:
/// √(7.25² + 1²) = 7.32.
#[test]
fn cuts_stay_over_bone_that_is_not_gone() {
    let case = case(Jaw::Lower, 6, bone(2.0, 8.0));
    let case = case.around(with_defect(4, bone(1.0, 7.0))).unwrap();
    let beside = judged(&case, "4ml r10@10 .. 7dl");
    assert_eq!(beside.failed(), [Rule::Defect]);
    assert_eq!(
        says(&beside, Rule::Defect),
        "The mesial release runs 0.2 mm from the bone lost over 4; keep 6, or the edge falls into the hole."
    );
    let clear = judged(&case, "3ml r10@10 .. 7dl");
    assert!(clear.is_sound(), "{:?}", clear.failed());
    let (over, _, distance) = clear.figures.to_defect.unwrap();
    assert_eq!(over, tooth(4));
    assert!((distance - 7.32).abs() < 0.005, "{distance}");
    let hanging = clear.margin_of_safety().unwrap();
    assert_eq!(hanging.rule, Rule::Defect);
    // A cut in the sulcus has no distance from bone.
    let envelope = judged(&case, "4ml .. 7dl");
    assert_eq!(outcome(&envelope, Rule::Defect), Outcome::NotApplicable);
}

#[test]
fn eminences_that_a_case_names_decide() {
    let case = case(Jaw::Upper, 3, bone(2.0, 8.0));
    let across = "2ml .. 4dl r12@25";
    assert!(judged(&case, across).is_sound());
    let named = Surroundings {
        eminences: vec![tooth(5)],
        ..Surroundings::default()
    };
    let case = case.around(named.clone()).unwrap();
    let crossed = judged(&case, across);
    assert_eq!(crossed.failed(), [Rule::Eminence]);
    assert_eq!(
        says(&crossed, Rule::Eminence),
        "It runs over the eminence of 5: thin bone and gum, recession and a scar."
    );
    let beside = judged(&case, "2ml .. 4dl r12@5");
    assert!(beside.is_sound());
    assert!(says(&beside, Rule::Eminence).ends_with("from the middle of 5."));
    // A start over its middle is told once.
    let middle = judged(&case, "2ml .. 5mf r12@0");
    assert_eq!(middle.failed(), [Rule::Start]);
    assert_eq!(outcome(&middle, Rule::Eminence), Outcome::Told(Rule::Start));
    // A deck that grades the rule is heard.
    let mut mild = Thresholds::default();
    mild.grade(Rule::Eminence, Grade::Advisory).unwrap();
    let operation = Operation {
        jaw: Jaw::Upper,
        quadrant: Quadrant::Left,
        aspect: Aspect::Buccal,
        site: vec![tooth(3)],
        bone: bone(2.0, 8.0),
        missing: Vec::new(),
    };
    let case = Case::new(operation, mild).unwrap().around(named).unwrap();
    assert_eq!(remarked(&judged(&case, across)), [Rule::Eminence]);
}

#[test]
fn a_margin_to_be_spared_asks_for_a_cut_in_attached_gingiva() {
    let spared = |attached_mm| Surroundings {
        attached_mm: Some(attached_mm),
        spares_margin: true,
        ..Surroundings::default()
    };
    let case = || case(Jaw::Upper, 3, bone(9.0, 13.0));
    let wide = case().around(spared(5.0)).unwrap();
    let submarginal = judged(&wide, "2ml r14@15 .. 4dl r14@15 sub2");
    assert!(submarginal.is_sound(), "{:?}", submarginal.failed());
    assert!(
        submarginal.hangs_on().is_none(),
        "{:?}",
        submarginal.hangs_on()
    );
    let sulcular = judged(&wide, "2ml r14@15 .. 4dl r14@15");
    assert_eq!(sulcular.failed(), [Rule::Margin]);
    assert!(sulcular.hangs_on().is_none());
    // What was measured in this patient stands in for the mean, and is named.
    let narrow = case().around(spared(2.0)).unwrap();
    let narrow = judged(&narrow, "2ml r14@15 .. 4dl r14@15 sub2");
    assert_eq!(narrow.failed(), [Rule::Attached]);
    assert!(says(&narrow, Rule::Attached).starts_with("Attached gingiva is 2.0 mm wide"));
    let junction = narrow.finding(Rule::Junction).unwrap().threshold.clone();
    assert_eq!(junction.unwrap().basis.to_string(), "as this case states");
}

/// 3.03 + 1 is not 4.03 in binary; a reveal prints the sum. On the palate there is no junction to be found.
#[test]
fn attached_gingiva_is_told_as_it_was_given() {
    let around = |case: Case, attached_mm: f64| {
        case.around(Surroundings {
            attached_mm: Some(attached_mm),
            ..Surroundings::default()
        })
    };
    for (hundredths, attached_mm) in
        (300..=1500).map(|count: u16| (count, f64::from(count) / 100.0))
    {
        let case = around(case(Jaw::Upper, 3, bone(2.0, 8.0)), attached_mm).unwrap();
        let junction = case.thresholds().value(Limit::JunctionUpper);
        let expected = f64::from(hundredths + 100) / 100.0;
        assert_eq!(junction.to_string(), expected.to_string());
    }
    let operation = Operation {
        jaw: Jaw::Upper,
        quadrant: Quadrant::Left,
        aspect: Aspect::Palatal,
        site: vec![tooth(3)],
        bone: bone(2.0, 8.0),
        missing: Vec::new(),
    };
    let palate = Case::new(operation.clone(), Thresholds::default()).unwrap();
    assert_eq!(around(palate, 5.0), Err(CaseError::AttachedPalate));
    // What is out of bounds is the sum, and the sulcus has its part in it.
    let mut deep = Thresholds::default();
    deep.set(Limit::Sulcus, 95.0, "Class notes 2026").unwrap();
    let buccal = Operation {
        aspect: Aspect::Buccal,
        ..operation
    };
    let refused = around(Case::new(buccal, deep).unwrap(), 6.0).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "`junction-upper` cannot be 101; give 0 to 100 mm"
    );
}

#[test]
fn findings_are_told_with_the_case() {
    let found = Surroundings {
        eminences: vec![tooth(3), tooth(4)],
        attached_mm: Some(4.5),
        spares_margin: true,
        ..with_defect(2, bone(1.0, 6.0))
    };
    let case = case(Jaw::Upper, 5, bone(2.0, 8.0)).around(found).unwrap();
    assert_eq!(
        describe_case(&case),
        "Upper left, from the cheek side. Site: tooth 5. Bone to be removed: 2 to 8 mm above the neck. Missing: tooth 8. Roots that stand out under thin bone: teeth 3 and 4. Attached gingiva: 4.5 mm wide. Gingival margin and papillae are to be left alone. Bone lost over 2: 1 to 6 mm above the neck."
    );
}

#[test]
fn impossible_findings_are_refused() {
    let refused = |found: Surroundings| {
        case(Jaw::Upper, 5, bone(2.0, 8.0))
            .around(found)
            .unwrap_err()
    };
    let gone = CaseError::FindingMissing { tooth: tooth(8) };
    assert_eq!(refused(with_defect(8, bone(1.0, 2.0))), gone);
    let eminent = |eminences| Surroundings {
        eminences,
        ..Surroundings::default()
    };
    assert_eq!(refused(eminent(vec![tooth(8)])), gone);
    let twice = CaseError::Twice { tooth: tooth(3) };
    assert_eq!(refused(eminent(vec![tooth(3), tooth(3)])), twice);
    for depth in [f64::NAN, f64::INFINITY, 0.5, 41.0] {
        let upside_down = refused(with_defect(4, bone(1.0, depth)));
        assert!(matches!(upside_down, CaseError::Bone { .. }), "{depth}");
    }
    for attached_mm in [f64::NAN, -0.1, 15.1] {
        let found = Surroundings {
            attached_mm: Some(attached_mm),
            ..Surroundings::default()
        };
        assert!(matches!(refused(found), CaseError::Attached { .. }));
    }
}
