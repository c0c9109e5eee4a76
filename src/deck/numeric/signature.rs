//! What of a computed number an answer was given to: what changes when its numbers do and not when a spelling is mended.

use super::{Choices, Derived, Numeric, Quantity, Rounding, Variable, plain};
use crate::deck::expression::Expression;
use crate::deck::unit;

/// What is right about a computed number, for the fingerprint: everything that changes a key, and of texts that go with
/// numbers only their digits and first letters, so that a mended spelling changes nothing. Slips, the worked solution and
/// spellings of the unit are not in it; a renamed value is.
#[must_use]
pub fn numeric_signature(numeric: &Numeric) -> String {
    let spaceless = |expression: &Expression| expression.text().replace([' ', '\n'], "");
    let quantity = |quantity: &Quantity| match quantity {
        Quantity::Number(number) => plain(*number),
        Quantity::Text(text) => initials(text),
    };
    let mut parts: Vec<String> = Vec::new();
    for Variable { name, choices } in &numeric.draw {
        parts.push(match choices {
            Choices::Range(range) => {
                let (first, second) = (range.value(0), range.value(1));
                let last = range.value(range.count.saturating_sub(1));
                format!("{name} {first} {second} {last}")
            }
            Choices::List(list) => {
                let mut list: Vec<String> = list.iter().map(quantity).collect();
                list.sort_unstable();
                format!("{name} {}", list.join(" "))
            }
        });
    }
    if let Some(table) = &numeric.rows {
        let mut rows: Vec<String> = table
            .rows
            .iter()
            .map(|row| {
                let cells = table.columns.iter().zip(row);
                let mut cells: Vec<String> = cells
                    .map(|(column, cell)| format!("{column} {}", quantity(cell)))
                    .collect();
                cells.sort_unstable();
                cells.join(" ")
            })
            .collect();
        rows.sort_unstable();
        parts.extend(rows);
    }
    for Derived { name, is } in &numeric.derive {
        parts.push(format!("{name} = {}", spaceless(is)));
    }
    parts.extend(
        numeric
            .require
            .iter()
            .map(|require| format!("require {}", spaceless(require))),
    );
    parts.push(format!("answer {}", spaceless(&numeric.answer)));
    parts.extend(
        numeric
            .round
            .iter()
            .map(|Rounding { side, step }| format!("round {side:?} {step}")),
    );
    parts.extend(
        numeric
            .tolerance
            .iter()
            .map(|tolerance| format!("tolerance {tolerance:?}")),
    );
    parts.extend(numeric.unit.iter().map(|unit| {
        let known = unit::known(unit).map(|known| known.names[0]);
        format!(
            "unit {}",
            known.map_or_else(|| initials(unit), str::to_owned)
        )
    }));
    parts.join("\n")
}

/// The numbers of a text and the first letters of its words.
fn initials(text: &str) -> String {
    let words = text.split(|character: char| !character.is_alphanumeric() && character != '.');
    let parts = words.filter_map(|word| {
        let first = word.chars().next()?;
        if word.chars().any(char::is_numeric) {
            Some(word.to_lowercase())
        } else {
            Some(first.to_lowercase().collect())
        }
    });
    parts.collect::<Vec<String>>().join("+")
}

#[cfg(test)]
mod tests {
    use super::super::{Tolerance, draw};
    use super::*;

    #[test]
    fn the_signature_follows_numbers_and_not_spelling() {
        let base = draw::tests::sample();
        let signature = numeric_signature(&base);
        let changed = |change: fn(&mut Numeric)| {
            let mut other = base.clone();
            change(&mut other);
            numeric_signature(&other) != signature
        };
        let read = |text| Expression::read(text).unwrap();
        assert!(changed(|item| item.draw.truncate(1)));
        assert!(changed(
            |item| item.tolerance = Some(Tolerance::Absolute(1.0))
        ));
        assert!(changed(|item| item.round = None));
        assert!(changed(|item| item.unit = Some("mL".into())));
        assert!(changed(|item| {
            if let Some(table) = &mut item.rows {
                table.rows[0][1] = Quantity::Number(5.0);
            }
        }));
        let mut other = base.clone();
        other.answer = read("limit / each + 0");
        assert_ne!(numeric_signature(&other), signature);
        other.answer = read("limit/each");
        other.solution = "Another way.".into();
        other.slips.clear();
        other.units.push("carts".into());
        if let Some(table) = &mut other.rows {
            table.rows[0][0] = Quantity::Text("Lidocane".into());
            table.rows.reverse();
        }
        assert_eq!(numeric_signature(&other), signature);
    }
}
