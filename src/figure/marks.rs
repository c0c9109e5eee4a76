//! Dots to characters: three faces of the same tile of two by four dots.
//!
//! Braille patterns (U+2800) hold the tile as it is. Quadrants halve its height. ASCII takes the glyph that lies
//! nearest. All of them are one cell wide where East Asian ambiguous characters are narrow; Braille and ASCII
//! are so everywhere.

/// What drawings are made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Marks {
    /// Braille patterns, two by four dots.
    #[default]
    Braille,
    /// Block elements, two by two.
    Quadrant,
    /// The glyph of ASCII that fits best.
    Ascii,
}

impl Marks {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Braille, Self::Quadrant, Self::Ascii];

    /// The word for it in settings.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Braille => "braille",
            Self::Quadrant => "quadrant",
            Self::Ascii => "ascii",
        }
    }

    /// The marks with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|marks| marks.word() == word)
    }

    /// The character for a tile: bit `4 * column + row`, from the top left. An empty tile is a blank.
    #[must_use]
    pub fn glyph(self, tile: u8) -> char {
        match self {
            _ if tile == 0 => ' ',
            Self::Braille => braille(tile),
            Self::Quadrant => quadrant(tile),
            Self::Ascii => ascii(tile),
        }
    }
}

/// Unicode numbers the dots 1-2-3-7 down the left column and 4-5-6-8 down the right one.
fn braille(tile: u8) -> char {
    const BIT: [u32; 8] = [0, 1, 2, 6, 3, 4, 5, 7];
    let pattern: u32 = (0..8)
        .filter(|dot| tile >> dot & 1 == 1)
        .map(|dot| 1 << BIT[dot])
        .sum();
    char::from_u32(0x2800 + pattern).unwrap_or(' ')
}

/// Index: upper left 1, upper right 2, lower left 4, lower right 8.
const QUADRANTS: [char; 16] = [
    ' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█',
];

fn quadrant(tile: u8) -> char {
    let parts = [0b0000_0011, 0b0011_0000, 0b0000_1100, 0b1100_0000];
    let index: usize = parts
        .iter()
        .enumerate()
        .filter(|(_, part)| tile & **part != 0)
        .map(|(place, _)| 1 << place)
        .sum();
    QUADRANTS[index]
}

/// Glyphs with the dots they cover, drawn as four rows of two: `#` is a dot. Of two that fit alike the first is
/// taken.
const GLYPHS: &[(char, [&[u8; 2]; 4])] = &[
    ('\'', [b"#.", b"..", b"..", b".."]),
    ('\'', [b".#", b"..", b"..", b".."]),
    ('\'', [b"#.", b"#.", b"..", b".."]),
    ('\'', [b".#", b".#", b"..", b".."]),
    ('"', [b"##", b"..", b"..", b".."]),
    ('"', [b"##", b"##", b"..", b".."]),
    ('-', [b"..", b"##", b"..", b".."]),
    ('-', [b"..", b"..", b"##", b".."]),
    ('-', [b"..", b"#.", b".#", b".."]),
    ('-', [b"..", b".#", b"#.", b".."]),
    ('=', [b"..", b"##", b"##", b".."]),
    ('_', [b"..", b"..", b"..", b"##"]),
    ('_', [b"..", b"..", b"##", b"##"]),
    ('.', [b"..", b"..", b"..", b"#."]),
    ('.', [b"..", b"..", b"..", b".#"]),
    ('.', [b"..", b"..", b"#.", b".."]),
    ('.', [b"..", b"..", b".#", b".."]),
    ('.', [b"..", b"#.", b"..", b".."]),
    ('.', [b"..", b".#", b"..", b".."]),
    (',', [b"..", b"..", b"#.", b"#."]),
    (',', [b"..", b"..", b".#", b".#"]),
    (',', [b"..", b"..", b".#", b"#."]),
    ('.', [b"..", b"..", b"#.", b".#"]),
    (':', [b"#.", b"..", b"..", b"#."]),
    (':', [b".#", b"..", b"..", b".#"]),
    (':', [b"#.", b"..", b"#.", b".."]),
    (':', [b"..", b".#", b"..", b".#"]),
    ('|', [b"#.", b"#.", b"#.", b"#."]),
    ('|', [b".#", b".#", b".#", b".#"]),
    ('|', [b"##", b"##", b"##", b"##"]),
    ('/', [b".#", b".#", b"#.", b"#."]),
    ('/', [b"..", b".#", b".#", b"#."]),
    ('/', [b".#", b"#.", b"#.", b".."]),
    ('/', [b".#", b"##", b"##", b"#."]),
    ('/', [b".#", b"#.", b"#.", b"#."]),
    ('/', [b".#", b".#", b".#", b"#."]),
    ('\\', [b"#.", b"#.", b".#", b".#"]),
    ('\\', [b"..", b"#.", b"#.", b".#"]),
    ('\\', [b"#.", b".#", b".#", b".."]),
    ('\\', [b"#.", b"##", b"##", b".#"]),
    ('\\', [b"#.", b".#", b".#", b".#"]),
    ('\\', [b"#.", b"#.", b"#.", b".#"]),
    ('(', [b".#", b"#.", b"#.", b".#"]),
    (')', [b"#.", b".#", b".#", b"#."]),
    ('+', [b"..", b"##", b".#", b".."]),
    ('+', [b"#.", b"##", b"#.", b"#."]),
    ('+', [b".#", b"##", b".#", b".#"]),
    ('T', [b"##", b"#.", b"#.", b"#."]),
    ('T', [b"##", b".#", b".#", b".#"]),
    ('L', [b"#.", b"#.", b"#.", b"##"]),
    ('J', [b".#", b".#", b".#", b"##"]),
    ('^', [b"##", b"#.", b"..", b".."]),
    ('^', [b"##", b".#", b"..", b".."]),
    ('*', [b"##", b"##", b"##", b".."]),
    ('*', [b"..", b"##", b"##", b"##"]),
    ('#', [b"##", b"##", b"##", b"#."]),
    ('#', [b"##", b"##", b"##", b".#"]),
];

/// The glyph whose dots lie nearest: a dot that only one of the two has costs less the nearer a dot of the other
/// lies.
fn ascii(tile: u8) -> char {
    let cost = |glyph: u8| -> u32 {
        let lonely = |from: u8, to: u8| {
            (0..8)
                .filter(|dot| from >> dot & 1 == 1)
                .map(|dot| apart(dot, to))
                .sum::<u32>()
        };
        lonely(tile, glyph) + lonely(glyph, tile)
    };
    GLYPHS
        .iter()
        .min_by_key(|(_, rows)| cost(bits(*rows)))
        .map_or('#', |&(glyph, _)| glyph)
}

fn bits(rows: [&[u8; 2]; 4]) -> u8 {
    let mut tile = 0;
    for (y, row) in rows.iter().enumerate() {
        for (x, &mark) in row.iter().enumerate() {
            if mark == b'#' {
                tile |= 1 << (4 * x + y);
            }
        }
    }
    tile
}

/// Squared distance in dots from one dot to the nearest of a tile, at most 6.
fn apart(dot: u8, tile: u8) -> u32 {
    (0..8_u8)
        .filter(|other| tile >> other & 1 == 1)
        .map(|other| {
            let across = u32::from((dot / 4).abs_diff(other / 4));
            let down = u32::from((dot % 4).abs_diff(other % 4));
            // Sideways a dot tells more: there are only two columns.
            2 * across * across + down * down
        })
        .min()
        .unwrap_or(6)
        .min(6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn braille_numbers_its_dots_as_unicode_does() {
        // The Unicode Standard, chapter Symbols, Braille Patterns: dots 1 to 8 are bits 0 to 7.
        for (tile, glyph) in [
            (0b0000_0001, '⠁'),
            (0b0000_1000, '⡀'),
            (0b0001_0000, '⠈'),
            (0b1000_0000, '⢀'),
            (0b1111_1111, '⣿'),
            (0, ' '),
        ] {
            assert_eq!(Marks::Braille.glyph(tile), glyph);
        }
    }

    #[test]
    fn every_tile_has_a_mark_of_one_cell() {
        use unicode_width::UnicodeWidthChar;
        for marks in Marks::ALL {
            for tile in 0..=u8::MAX {
                let glyph = marks.glyph(tile);
                assert_eq!(glyph.width(), Some(1), "{glyph:?}");
                assert_eq!(glyph == ' ', tile == 0);
                assert!(marks != Marks::Ascii || glyph.is_ascii());
            }
        }
    }

    #[test]
    fn ascii_keeps_its_own_forms() {
        for &(glyph, rows) in GLYPHS {
            assert_eq!(ascii(bits(rows)), glyph);
        }
        assert_eq!(ascii(0b1111_1111), '|');
    }
}
