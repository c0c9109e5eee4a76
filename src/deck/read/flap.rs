//! A flap to be designed: the case, the numbers that decide, and a design that must be found sound.

use std::sync::Arc;

use super::Reader;
use super::deck::Lists;
use super::fields::Fields;
use super::nearest;
use super::shape::{self, longest};
use crate::deck::model::{Citation, FlapSlip, FlapTask};
use crate::deck::yaml::{Entry, Node, Value, brief};
use crate::diagnostic::Diagnostic;
use crate::figure::teeth::{Jaw, Tooth};
use crate::flap::surroundings::WIDEST_ATTACHED_MM;
use crate::flap::{
    Aspect, Assessment, Bone, Case, Defect, Design, Family, Grade, Limit, Operation, Quadrant,
    Rule, Surroundings, Thresholds, assess,
};
use crate::source::Span;

pub(in crate::deck) const JAWS: [Jaw; 2] = [Jaw::Upper, Jaw::Lower];
pub(in crate::deck) const SIDES: [Quadrant; 2] = [Quadrant::Left, Quadrant::Right];
pub(in crate::deck) const SURFACES: [Aspect; 3] =
    [Aspect::Buccal, Aspect::Palatal, Aspect::Lingual];

impl Reader<'_> {
    pub(super) fn flap(&mut self, fields: Fields<'_, '_>, lists: &Lists<'_>) -> Option<FlapTask> {
        let thresholds = self.thresholds(fields, lists);
        let case = fields
            .get("case")
            .and_then(|entry| self.flap_case(entry, thresholds?));
        let family = self.family(fields);
        let show = fields
            .get("show")
            .and_then(|entry| self.design(&entry.value));
        let slips = fields.get("slips");
        let slips = slips
            .and_then(|entry| self.list(entry, 1..=Rule::ALL.len()))
            .unwrap_or_default();
        let slips: Vec<Option<(FlapSlip, Span)>> = slips
            .iter()
            .map(|node| self.flap_slip(node, lists))
            .collect();
        let (case, family) = (case?, family?);
        let show_span = fields.get("show")?.value.span;
        let show = show?;
        let mut is_sound = self.show_is_sound(&case, family, &show, show_span);
        let slips = slips.into_iter().collect::<Option<Vec<_>>>()?;
        let broken = slips.iter().map(|(slip, span)| (slip.breaks.word(), *span));
        self.named_once("slips for the rule", broken);
        for (slip, span) in &slips {
            is_sound &= self.slip_is_one(&case, slip, *span);
        }
        is_sound.then(|| FlapTask {
            case: Arc::new(case),
            family,
            show,
            slips: slips.into_iter().map(|(slip, _)| slip).collect(),
        })
    }

    fn flap_case(&mut self, entry: &Entry<'_>, thresholds: Thresholds) -> Option<Case> {
        let fields = self.fields(&entry.value, &shape::FLAP_CASE)?;
        let jaw = self.word(fields, "jaw", &JAWS, Jaw::word);
        let quadrant = self.word(fields, "side", &SIDES, Quadrant::word);
        let aspect = if fields.get("surface").is_some() {
            self.word(fields, "surface", &SURFACES, Aspect::word)
        } else {
            Some(Aspect::Buccal)
        };
        let site = fields.get("site").and_then(|entry| self.teeth(entry));
        let missing = match fields.get("missing") {
            None => Some(Vec::new()),
            Some(entry) => self.teeth(entry),
        };
        let bone = fields.get("bone").and_then(|entry| {
            let fields = self.fields(&entry.value, &shape::BONE)?;
            self.depths(fields)
        });
        let surroundings = self.surroundings(fields);
        let operation = Operation {
            jaw: jaw?,
            quadrant: quadrant?,
            aspect: aspect?,
            site: site?,
            bone: bone?,
            missing: missing?,
        };
        let surroundings = surroundings?;
        let case = Case::new(operation, thresholds).and_then(|case| case.around(surroundings));
        match case {
            Ok(case) => Some(case),
            Err(error) => {
                let label = "cannot be operated on so";
                self.error("deck::bad-case", error.to_string(), entry.key_span, label);
                None
            }
        }
    }

    /// What the case says of bone that is gone, of roots that stand out and of the gingiva.
    fn surroundings(&mut self, fields: Fields<'_, '_>) -> Option<Surroundings> {
        let defects = match fields.get("defects") {
            None => Some(Vec::new()),
            Some(entry) => self.list(entry, 1..=8).and_then(|nodes| {
                let defects: Vec<Option<Defect>> =
                    nodes.iter().map(|node| self.defect(node)).collect();
                defects.into_iter().collect()
            }),
        };
        let eminences = match fields.get("eminences") {
            None => Some(Vec::new()),
            Some(entry) => self.teeth(entry),
        };
        let attached_mm = match fields.get("attached") {
            None => Some(None),
            Some(entry) => self
                .number("attached", &entry.value, "0 to 15 mm", |mm| {
                    (0.0..=WIDEST_ATTACHED_MM).contains(&mm)
                })
                .map(Some),
        };
        let spares_margin = self.flag(fields.get("spare_margin"));
        Some(Surroundings {
            defects: defects?,
            eminences: eminences?,
            attached_mm: attached_mm?,
            spares_margin: spares_margin?,
        })
    }

    fn defect(&mut self, node: &Node<'_>) -> Option<Defect> {
        let fields = self.fields(node, &shape::DEFECT)?;
        let tooth = fields
            .get("tooth")
            .and_then(|entry| self.tooth("tooth", &entry.value));
        let bone = self.depths(fields);
        Some(Defect {
            tooth: tooth?,
            bone: bone?,
        })
    }

    /// From where to where bone goes or is gone.
    fn depths(&mut self, fields: Fields<'_, '_>) -> Option<Bone> {
        let mut depth = |key: &str| {
            let node = &fields.get(key)?.value;
            self.number(key, node, "0 to 40 mm", |mm| (0.0..=40.0).contains(&mm))
        };
        let (top, bottom) = (depth("top"), depth("bottom"));
        Some(Bone {
            top_mm: top?,
            bottom_mm: bottom?,
        })
    }

    /// Teeth of the quadrant by number.
    fn teeth(&mut self, entry: &Entry<'_>) -> Option<Vec<Tooth>> {
        if matches!(entry.value.value, Value::Scalar(_)) {
            let diagnostic = self.wrong_type(&entry.key, "a list of teeth", &entry.value);
            self.report(diagnostic.help("each 1 to 8 of its quadrant, in brackets, such as `[6]`"));
            return None;
        }
        let nodes = self.list(entry, 1..=7)?;
        let teeth: Vec<Option<Tooth>> = nodes
            .iter()
            .map(|node| self.tooth(&entry.key, node))
            .collect();
        teeth.into_iter().collect()
    }

    fn tooth(&mut self, key: &str, node: &Node<'_>) -> Option<Tooth> {
        let is_tooth = |number: f64| number.fract() == 0.0 && (1.0..=8.0).contains(&number);
        let number = self.number(key, node, "a tooth from 1 to 8", is_tooth)?;
        Tooth::all().find(|tooth| (f64::from(tooth.number()) - number).abs() < 0.5)
    }

    /// A value that is one of a few words.
    fn word<T: Copy>(
        &mut self,
        fields: Fields<'_, '_>,
        key: &str,
        all: &[T],
        word: impl Fn(T) -> &'static str,
    ) -> Option<T> {
        let node = &fields.get(key)?.value;
        let text = self.line(key, node, longest::LINE)?;
        let found = all.iter().copied().find(|one| word(*one) == text);
        if found.is_none() {
            let words: Vec<&str> = all.iter().map(|one| word(*one)).collect();
            self.not_one_of(key, &text, node.span, &words);
        }
        found
    }

    fn not_one_of(&mut self, key: &str, text: &str, span: Span, words: &[&'static str]) {
        let message = format!("`{key}` cannot be `{}`", brief(text));
        let diagnostic = Diagnostic::error("deck::unknown-word", message, span, "not known here");
        self.report(match nearest(text, words.iter().copied()) {
            Some(near) => diagnostic
                .help(format!("a similar word is known: `{near}`"))
                .patch(span, near),
            None => diagnostic.help(format!("the words: {}", words.join(", "))),
        });
    }

    #[expect(
        clippy::option_option,
        reason = "the outer is soundness, the inner belongs to the model"
    )]
    fn family(&mut self, fields: Fields<'_, '_>) -> Option<Option<Family>> {
        match fields.get("type") {
            None => Some(None),
            Some(_) => self
                .word(fields, "type", &Family::ALL, Family::word)
                .map(Some),
        }
    }

    /// The numbers that decide, and which rules do.
    fn thresholds(&mut self, fields: Fields<'_, '_>, lists: &Lists<'_>) -> Option<Thresholds> {
        let mut table = Thresholds::default();
        let mut is_sound = true;
        let entries = fields.get("thresholds");
        let nodes = entries.and_then(|entry| self.list(entry, 1..=Limit::ALL.len()));
        is_sound &= nodes.is_some() || entries.is_none();
        let mut limits: Vec<(&str, Span)> = Vec::new();
        for node in nodes.unwrap_or_default() {
            let limit = self.threshold(node, lists, &mut table);
            is_sound &= limit.is_some();
            limits.extend(limit);
        }
        self.named_once("values for the limit", limits.into_iter());
        let mut graded_rules: Vec<(&str, Span)> = Vec::new();
        if let Some(entry) = fields.get("papilla_start") {
            let source = self.citation("papilla_start", &entry.value, lists);
            is_sound &= source
                .is_some_and(|source| table.allow_papilla_start(&cited(&source, lists)).is_ok());
        }
        for (key, grade) in [("decisive", Grade::Decisive), ("advisory", Grade::Advisory)] {
            let Some(entry) = fields.get(key) else {
                continue;
            };
            for node in self.list(entry, 1..=Rule::ALL.len()).unwrap_or_default() {
                let rule = self.rule(key, node);
                graded_rules.extend(rule.map(|rule| (rule.word(), node.span)));
                let graded = rule.map(|rule| table.grade(rule, grade));
                is_sound &= matches!(graded, Some(Ok(())));
                if let Some(Err(error)) = graded {
                    let label = "cannot be a remark";
                    self.error("deck::bad-threshold", error.to_string(), node.span, label);
                }
            }
        }
        self.named_once("grades for the rule", graded_rules.into_iter());
        is_sound.then_some(table)
    }

    fn threshold(
        &mut self,
        node: &Node<'_>,
        lists: &Lists<'_>,
        table: &mut Thresholds,
    ) -> Option<(&'static str, Span)> {
        let fields = self.fields(node, &shape::THRESHOLD)?;
        let limit = self.word(fields, "limit", &Limit::ALL, Limit::word);
        let value = fields
            .get("value")
            .and_then(|entry| self.number("value", &entry.value, "a number", f64::is_finite));
        let source = fields
            .get("source")
            .and_then(|entry| self.citation("source", &entry.value, lists));
        let limit = limit?;
        match table.set(limit, value?, &cited(&source?, lists)) {
            Ok(()) => Some((limit.word(), fields.get("limit")?.value.span)),
            Err(error) => {
                let span = fields.get("value")?.value.span;
                self.error(
                    "deck::bad-threshold",
                    error.to_string(),
                    span,
                    "out of bounds",
                );
                None
            }
        }
    }

    fn rule(&mut self, key: &str, node: &Node<'_>) -> Option<Rule> {
        let text = self.line(key, node, longest::LINE)?;
        let rule = Rule::parse(&text);
        if rule.is_none() {
            self.not_one_of(key, &text, node.span, &Rule::ALL.map(Rule::word));
        }
        rule
    }

    fn design(&mut self, node: &Node<'_>) -> Option<Design> {
        let text = self.line("design", node, longest::LINE)?;
        match text.parse::<Design>() {
            Ok(design) => Some(design),
            Err(error) => {
                let label = "not a design";
                self.error("deck::bad-design", error.to_string(), node.span, label);
                None
            }
        }
    }

    fn flap_slip(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<(FlapSlip, Span)> {
        let fields = self.fields(node, &shape::FLAP_SLIP)?;
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let breaks = value("breaks").and_then(|node| self.rule("breaks", node));
        let design = value("design").and_then(|node| self.design(node));
        let why = value("why").and_then(|node| self.text("why", node, longest::REASON));
        let belief = self.belief_of(fields, lists);
        let slip = FlapSlip {
            breaks: breaks?,
            design: design?,
            why: why?,
            belief: belief?,
        };
        Some((slip, value("design")?.span))
    }

    fn assessed(&mut self, case: &Case, design: &Design, span: Span) -> Option<Assessment> {
        match assess(case, design) {
            Ok(assessment) => Some(assessment),
            Err(error) => {
                let label = "cannot be laid on this case";
                self.error("deck::bad-design", error.to_string(), span, label);
                None
            }
        }
    }

    fn show_is_sound(
        &mut self,
        case: &Case,
        family: Option<Family>,
        show: &Design,
        span: Span,
    ) -> bool {
        let Some(assessment) = self.assessed(case, show, span) else {
            return false;
        };
        let mut faults: Vec<String> = Vec::new();
        for rule in assessment.failed() {
            let says = assessment.finding(rule).map_or("", |finding| &finding.says);
            faults.push(format!("{}: {says}", rule.word()));
        }
        if let Some(family) = family.filter(|family| assessment.name.family() != *family) {
            faults.push(format!(
                "`type` asks for {}; it is {}",
                family.word(),
                assessment.name
            ));
        }
        if !faults.is_empty() {
            let diagnostic = Diagnostic::error(
                "deck::unsound-design",
                "the design that is to be shown is not a right answer",
                span,
                faults.join(" "),
            );
            self.report(
                diagnostic.help("mend the design, or the case, or set a threshold with its source"),
            );
            return false;
        }
        self.hangs_on_nothing(&assessment, span)
    }

    /// Tooth widths are means, so no verdict of an item may rest on a millimetre.
    fn hangs_on_nothing(&mut self, assessment: &Assessment, span: Span) -> bool {
        let Some(hanging) = assessment.hangs_on() else {
            return true;
        };
        let message = format!(
            "the verdict on this design hangs on the rule `{}` by {:.1} mm",
            hanging.rule.word(),
            hanging.slack_mm
        );
        let diagnostic = Diagnostic::error(
            "deck::hangs-on-threshold",
            message,
            span,
            "less than 1 mm from another verdict",
        )
        .why("tooth widths are means: half a millimetre more or less would turn the verdict")
        .help(
            "choose another point, length or slant, another site, or a threshold with its source",
        );
        self.report(diagnostic);
        false
    }

    fn slip_is_one(&mut self, case: &Case, slip: &FlapSlip, span: Span) -> bool {
        let Some(assessment) = self.assessed(case, &slip.design, span) else {
            return false;
        };
        let failed = assessment.failed();
        if !failed.contains(&slip.breaks) {
            let broken: Vec<&str> = failed.iter().map(|rule| rule.word()).collect();
            let label = if broken.is_empty() {
                "this design is sound".to_owned()
            } else {
                format!("this design breaks {}", broken.join(", "))
            };
            let message = format!("the slip does not break the rule `{}`", slip.breaks.word());
            let diagnostic = Diagnostic::error("deck::no-slip", message, span, label);
            self.report(diagnostic.help(if broken.is_empty() {
                "change the design so that it breaks the rule, or take the slip out"
            } else {
                "name the rule that it breaks under `breaks`, or draw another design"
            }));
            return false;
        }
        self.hangs_on_nothing(&assessment, span)
    }
}

/// A citation as one text: the publication in full, then where in it.
fn cited(citation: &Citation, lists: &Lists<'_>) -> String {
    let id = citation.source.as_str();
    let cite = lists.cites.get(id).copied().unwrap_or(id);
    let cite = cite.trim_end_matches('.');
    if citation.place.is_empty() {
        cite.to_owned()
    } else {
        format!("{cite}, {}", citation.place)
    }
}
