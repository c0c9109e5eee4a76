//! What must hold of any design: mirror, scale, direction, finiteness.

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;

use super::*;
use crate::figure::teeth::{Jaw, NeckPoint, Tooth};

fn teeth() -> impl Strategy<Value = Tooth> {
    (1..=8_u8).prop_map(|number| Tooth::new(number).unwrap())
}

fn points() -> impl Strategy<Value = NeckPoint> {
    prop::sample::select(NeckPoint::ALL.to_vec())
}

fn releases() -> impl Strategy<Value = Option<Release>> {
    prop::option::of(
        (0.5..40.0, -60.0..=60.0).prop_map(|(length_mm, spread_deg)| Release {
            length_mm,
            spread_deg,
        }),
    )
}

fn ends() -> impl Strategy<Value = End> {
    (teeth(), points(), releases()).prop_map(|(tooth, point, release)| End {
        tooth,
        point,
        release,
    })
}

fn cuts() -> impl Strategy<Value = Cut> {
    prop_oneof![
        3 => Just(Cut::Sulcular),
        1 => (0.1..=20.0).prop_map(|offset_mm| Cut::Submarginal { offset_mm }),
    ]
}

fn limbs() -> impl Strategy<Value = Option<Limb>> {
    prop::option::weighted(
        0.2,
        (0.5..40.0, -90.0..=90.0).prop_map(|(length_mm, buccal_deg)| Limb {
            length_mm,
            buccal_deg,
        }),
    )
}

fn designs() -> impl Strategy<Value = Design> {
    (ends(), ends(), cuts(), limbs()).prop_filter_map("ends in order", |(a, b, cut, limb)| {
        let limb = limb.filter(|_| b.release.is_none());
        Design::new(a, b, cut, limb).ok()
    })
}

fn operations() -> impl Strategy<Value = Operation> {
    let sides = prop_oneof![
        Just((Jaw::Upper, Aspect::Buccal)),
        Just((Jaw::Upper, Aspect::Palatal)),
        Just((Jaw::Lower, Aspect::Buccal)),
        Just((Jaw::Lower, Aspect::Lingual)),
    ];
    let missing = prop::sample::subsequence((1..=8_u8).collect::<Vec<_>>(), 0..=3);
    (sides, 2..=8_u8, 0.0..10.0, 0.5..20.0, missing).prop_map(
        |((jaw, aspect), site, top_mm, deep, missing)| Operation {
            jaw,
            quadrant: Quadrant::Left,
            aspect,
            site: vec![Tooth::new(site).unwrap()],
            bone: Bone {
                top_mm,
                bottom_mm: top_mm + deep,
            },
            missing: missing
                .into_iter()
                .filter(|&number| number != site)
                .filter_map(Tooth::new)
                .collect(),
        },
    )
}

/// Up to two defects and eminences, a width of attached gingiva, a margin to be spared or not.
fn surroundings() -> impl Strategy<Value = Surroundings> {
    let teeth = || prop::sample::subsequence(Tooth::all().collect::<Vec<_>>(), 0..=2);
    let bones = (0.0..5.0, 0.5..20.0).prop_map(|(top_mm, deep)| Bone {
        top_mm,
        bottom_mm: top_mm + deep,
    });
    let attached = prop::option::of(0.0..=15.0);
    (teeth(), bones, teeth(), attached, any::<bool>()).prop_map(
        |(lost, bone, eminences, attached_mm, spares_margin)| Surroundings {
            defects: lost
                .into_iter()
                .map(|tooth| Defect { tooth, bone })
                .collect(),
            eminences,
            attached_mm,
            spares_margin,
        },
    )
}

/// The case with those findings that belong to teeth that stand.
fn with(case: Case, found: &Surroundings) -> Case {
    let mut found = found.clone();
    found.defects.retain(|defect| case.has(defect.tooth));
    found.eminences.retain(|&tooth| case.has(tooth));
    found.attached_mm = found
        .attached_mm
        .filter(|_| case.aspect() != Aspect::Palatal);
    case.around(found).unwrap()
}

fn case(operation: &Operation) -> Case {
    Case::new(operation.clone(), Thresholds::default()).unwrap()
}

fn kept(assessment: &Assessment, rule: Rule) -> bool {
    let outcome = assessment.finding(rule).unwrap().outcome;
    matches!(outcome, Outcome::Ok | Outcome::NotApplicable)
}

/// Every number an assessment holds.
fn numbers(assessment: &Assessment) -> Vec<f64> {
    let figures = &assessment.figures;
    let mut numbers = vec![
        figures.margin_mm,
        figures.base_mm,
        figures.length_mm,
        figures.ends_mm.0,
        figures.ends_mm.1,
    ];
    numbers.extend(
        figures
            .releases
            .iter()
            .flat_map(|release| [release.cut.to.along_mm, release.cut.to.apical_mm]),
    );
    numbers.extend(figures.to_bone.map(|(_, mm)| mm));
    numbers.extend(figures.to_defect.map(|(_, _, mm)| mm));
    numbers.extend(figures.to_foramen_mm);
    numbers.extend(figures.to_infraorbital_mm);
    numbers.extend(
        assessment
            .margin_of_safety()
            .map(|hanging| hanging.slack_mm),
    );
    numbers
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn any_design_is_measured_in_finite_figures(
        operation in operations(),
        found in surroundings(),
        design in designs(),
    ) {
        let case = with(case(&operation), &found);
        let Ok(assessment) = assess(&case, &design) else {
            prop_assert!(design.limb().is_some() && case.jaw() == Jaw::Upper);
            return Ok(());
        };
        prop_assert!(numbers(&assessment).into_iter().all(f64::is_finite));
        prop_assert!(assessment.figures.margin_mm > 0.0);
        prop_assert_eq!(assessment.findings.len(), Rule::ALL.len());
        prop_assert_eq!(assessment.is_sound(), assessment.failed().is_empty());
        for finding in &assessment.findings {
            let applies = finding.outcome != Outcome::NotApplicable;
            prop_assert_eq!(applies, !finding.says.is_empty());
            prop_assert!(finding.outcome != Outcome::Fail || finding.grade == Grade::Decisive);
        }
        let sketch = sketch(&case, &design).unwrap();
        let drawn = [Some(&sketch.cut), sketch.limb.as_ref()];
        let drawn = drawn.into_iter().flatten().chain(&sketch.releases).flatten();
        prop_assert!(drawn.into_iter().all(|&(x, y)| x.is_finite() && y.is_finite()));
        prop_assert!(sketch.cut.len() <= 200);
    }

    #[test]
    fn text_and_draft_give_the_design_back(design in designs()) {
        prop_assert_eq!(design.to_string().parse::<Design>().unwrap(), design);
        prop_assert_eq!(Draft::from(&design).design().unwrap(), design);
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,40}") {
        if let Ok(design) = text.parse::<Design>() {
            prop_assert_eq!(design.to_string().parse::<Design>().unwrap(), design);
        }
    }

    #[test]
    fn hostile_numbers_are_refused_or_measured(
        operation in operations(),
        mesial in ends(),
        distal in ends(),
        sizes in prop::array::uniform3(any::<f64>()),
    ) {
        let [length_mm, spread_deg, offset_mm] = sizes;
        let release = Some(Release { length_mm, spread_deg });
        let wild = Design::new(
            End { release, ..mesial },
            distal,
            Cut::Submarginal { offset_mm },
            Some(Limb { length_mm, buccal_deg: spread_deg }),
        );
        if let Ok(Ok(assessment)) = wild.map(|design| assess(&case(&operation), &design)) {
            prop_assert!(numbers(&assessment).into_iter().all(f64::is_finite));
        }
    }

    #[test]
    fn the_other_side_of_the_mouth_is_judged_alike(
        operation in operations(),
        found in surroundings(),
        design in designs(),
    ) {
        let left = with(case(&operation), &found);
        let right = with(case(&Operation { quadrant: Quadrant::Right, ..operation }), &found);
        prop_assert_eq!(assess(&left, &design), assess(&right, &design));
        if let (Ok(left), Ok(right)) = (sketch(&left, &design), sketch(&right, &design)) {
            let mirrored: Vec<_> = left.cut.iter().map(|&(x, y)| (-x, y)).collect();
            prop_assert_eq!(&mirrored, &right.cut);
        }
    }

    #[test]
    fn twice_the_size_measures_twice(
        operation in operations(),
        found in surroundings(),
        design in designs(),
    ) {
        let double = |mm: f64| 2.0 * mm;
        let longer = |end: End| End {
            release: end.release.map(|release| Release {
                length_mm: release.length_mm.min(20.0) * 2.0,
                ..release
            }),
            ..end
        };
        let shorter = |end: End| End {
            release: end.release.map(|release| Release {
                length_mm: release.length_mm.min(20.0),
                ..release
            }),
            ..end
        };
        let [mesial, distal] = EndSide::BOTH.map(|side| design.end(side));
        let small = Design::new(shorter(mesial), shorter(distal), Cut::Sulcular, None).unwrap();
        let large = Design::new(longer(mesial), longer(distal), Cut::Sulcular, None).unwrap();
        let Bone { top_mm, bottom_mm } = operation.bone;
        let bone = Bone { top_mm: top_mm / 2.0, bottom_mm: bottom_mm / 2.0 };
        let mut halved = found.clone();
        for Defect { bone, .. } in &mut halved.defects {
            *bone = Bone { top_mm: bone.top_mm / 2.0, bottom_mm: bone.bottom_mm / 2.0 };
        }
        let small_case = with(case(&Operation { bone, ..operation.clone() }), &halved);
        let row = Row::of(operation.jaw).reshaped(double);
        let large_case = with(case(&operation).on(row), &found);
        let small = assess(&small_case, &small).unwrap();
        let large = assess(&large_case, &large).unwrap();
        for (one, two) in [
            (small.figures.margin_mm, large.figures.margin_mm),
            (small.figures.base_mm, large.figures.base_mm),
            (small.figures.length_mm, large.figures.length_mm),
            (
                small.figures.to_bone.map_or(0.0, |(_, mm)| mm),
                large.figures.to_bone.map_or(0.0, |(_, mm)| mm),
            ),
            (
                small.figures.to_defect.map_or(0.0, |(_, _, mm)| mm),
                large.figures.to_defect.map_or(0.0, |(_, _, mm)| mm),
            ),
        ] {
            prop_assert!((2.0 * one - two).abs() < 1e-9, "{} {}", one, two);
        }
        prop_assert_eq!(small.name, large.name);
        let teeth = |figures: &Figures| (figures.mesial_teeth, figures.distal_teeth);
        prop_assert_eq!(teeth(&small.figures), teeth(&large.figures));
        for rule in [
            Rule::Base,
            Rule::Sides,
            Rule::Length,
            Rule::Start,
            Rule::Reach,
            Rule::Cover,
            Rule::Margin,
        ] {
            prop_assert_eq!(kept(&small, rule), kept(&large, rule), "{}", rule);
        }
    }

    #[test]
    fn more_spread_never_breaks_the_base(operation in operations(), design in designs()) {
        let turned = |end: End| End {
            release: end.release.map(|release| Release {
                spread_deg: (release.spread_deg + 10.0).min(60.0),
                ..release
            }),
            ..end
        };
        let [mesial, distal] = EndSide::BOTH.map(|side| design.end(side));
        let wider = Design::new(turned(mesial), turned(distal), design.cut(), design.limb());
        let case = case(&operation);
        if let (Ok(before), Ok(after)) = (assess(&case, &design), assess(&case, &wider.unwrap())) {
            prop_assert!(after.figures.base_mm >= before.figures.base_mm - 1e-9);
            prop_assert!(!kept(&before, Rule::Base) || kept(&after, Rule::Base));
        }
    }

    #[test]
    fn a_tooth_more_never_breaks_reach_or_sound(operation in operations(), design in designs()) {
        let case = case(&operation);
        let mesial = design.end(EndSide::Mesial);
        let site = *case.site().first().unwrap();
        let farther = mesial.tooth.number().checked_sub(1).and_then(Tooth::new);
        let (Some(tooth), true) = (farther, mesial.tooth < site) else {
            return Ok(());
        };
        let design_farther = Design::new(
            End { tooth, ..mesial },
            design.end(EndSide::Distal),
            design.cut(),
            design.limb(),
        );
        let (Ok(before), Ok(after)) = (assess(&case, &design), assess(&case, &design_farther.unwrap())) else {
            return Ok(());
        };
        for rule in [Rule::Reach, Rule::Sound] {
            // A release may lean over the site and past it; a step away can then bring it nearer.
            let past = before.figures.releases.iter().any(|figures| {
                figures.side == EndSide::Mesial
                    && figures.cut.to.along_mm > case.block().high.along_mm
            });
            if !past && !beyond_site(&case, &before) {
                prop_assert!(!kept(&before, rule) || kept(&after, rule), "{}", rule);
            }
        }
    }
}

/// Means stand for teeth that differ: with every width off by up to half a millimetre, only rules that compare with a
/// place along the row may change their mind.
#[test]
fn widths_half_a_millimetre_off_change_only_distances() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let offs = prop::collection::vec(-0.5..=0.5, 16);
    for (jaw, aspect, site, bottom_mm, text) in [
        (Jaw::Lower, Aspect::Buccal, 6, 8.0, "4ml .. 7dl"),
        (Jaw::Lower, Aspect::Buccal, 5, 8.0, "4ml r10@20 .. 6dl"),
        (Jaw::Lower, Aspect::Buccal, 8, 8.0, "6mp .. 7dl limb10@45"),
        (
            Jaw::Upper,
            Aspect::Buccal,
            3,
            11.0,
            "2ml r12@15 .. 4dl r12@15",
        ),
        (Jaw::Upper, Aspect::Buccal, 6, 8.0, "5ml r12@20 .. 7dl"),
        (Jaw::Upper, Aspect::Palatal, 3, 12.0, "1ml .. 5dl"),
        (Jaw::Upper, Aspect::Buccal, 6, 8.0, "4ml r12@-10 .. 7dl"),
        (Jaw::Lower, Aspect::Buccal, 6, 8.0, "5ml r10@10 .. 7dl"),
        (Jaw::Lower, Aspect::Buccal, 3, 8.0, "2ml r10@10 .. 4dl"),
    ] {
        let case = case(&Operation {
            jaw,
            quadrant: Quadrant::Left,
            aspect,
            site: vec![Tooth::new(site).unwrap()],
            bone: Bone {
                top_mm: 2.0,
                bottom_mm,
            },
            missing: Vec::new(),
        });
        let design: Design = text.parse().unwrap();
        let means = assess(&case, &design).unwrap();
        for _ in 0..100 {
            let mut offs = offs.new_tree(&mut runner).unwrap().current().into_iter();
            let row = Row::of(jaw).reshaped(|mm| mm + offs.next().unwrap());
            let other = assess(&case.clone().on(row), &design).unwrap();
            for rule in Rule::ALL {
                let may_change = matches!(
                    rule,
                    Rule::Sound | Rule::Mental | Rule::Infraorbital | Rule::Eminence | Rule::Frenum
                );
                assert!(
                    may_change || kept(&means, rule) == kept(&other, rule),
                    "{text} {rule}"
                );
            }
            // What stands clear of its threshold by the safe distance keeps its verdict.
            if means.hangs_on().is_none() {
                assert_eq!(means.is_sound(), other.is_sound(), "{text}");
            }
        }
    }
}

/// Whether the margin ends in front of the site, so that a submarginal cut only touches it from one side.
fn beyond_site(case: &Case, assessment: &Assessment) -> bool {
    assessment.figures.ends_mm.1 < case.block().low.along_mm
}
