//! Letters that are read from two metres: five rows high, made of blocks.

/// Rows of a letter.
pub const ROWS: usize = 5;

/// Letters and what they look like, row by row.
const GLYPHS: [(char, [&str; ROWS]); 45] = [
    ('A', [" ### ", "#   #", "#####", "#   #", "#   #"]),
    ('B', ["#### ", "#   #", "#### ", "#   #", "#### "]),
    ('C', [" ####", "#    ", "#    ", "#    ", " ####"]),
    ('D', ["#### ", "#   #", "#   #", "#   #", "#### "]),
    ('E', ["#####", "#    ", "#### ", "#    ", "#####"]),
    ('F', ["#####", "#    ", "#### ", "#    ", "#    "]),
    ('G', [" ####", "#    ", "#  ##", "#   #", " ####"]),
    ('H', ["#   #", "#   #", "#####", "#   #", "#   #"]),
    ('I', ["###", " # ", " # ", " # ", "###"]),
    ('J', ["  ###", "    #", "    #", "#   #", " ### "]),
    ('K', ["#   #", "#  # ", "###  ", "#  # ", "#   #"]),
    ('L', ["#    ", "#    ", "#    ", "#    ", "#####"]),
    ('M', ["#   #", "## ##", "# # #", "#   #", "#   #"]),
    ('N', ["#   #", "##  #", "# # #", "#  ##", "#   #"]),
    ('O', [" ### ", "#   #", "#   #", "#   #", " ### "]),
    ('P', ["#### ", "#   #", "#### ", "#    ", "#    "]),
    ('Q', [" ### ", "#   #", "# # #", "#  # ", " ## #"]),
    ('R', ["#### ", "#   #", "#### ", "#  # ", "#   #"]),
    ('S', [" ####", "#    ", " ### ", "    #", "#### "]),
    ('T', ["#####", "  #  ", "  #  ", "  #  ", "  #  "]),
    ('U', ["#   #", "#   #", "#   #", "#   #", " ### "]),
    ('V', ["#   #", "#   #", "#   #", " # # ", "  #  "]),
    ('W', ["#   #", "#   #", "# # #", "## ##", "#   #"]),
    ('X', ["#   #", " # # ", "  #  ", " # # ", "#   #"]),
    ('Y', ["#   #", " # # ", "  #  ", "  #  ", "  #  "]),
    ('Z', ["#####", "   # ", "  #  ", " #   ", "#####"]),
    ('Ä', ["#   #", " ### ", "#   #", "#####", "#   #"]),
    ('Ö', ["#   #", " ### ", "#   #", "#   #", " ### "]),
    ('Ü', ["#   #", "     ", "#   #", "#   #", " ### "]),
    ('0', [" ### ", "#  ##", "# # #", "##  #", " ### "]),
    ('1', [" #  ", "##  ", " #  ", " #  ", "### "]),
    ('2', [" ### ", "#   #", "   # ", "  #  ", "#####"]),
    ('3', ["#### ", "    #", " ### ", "    #", "#### "]),
    ('4', ["#  # ", "#  # ", "#####", "   # ", "   # "]),
    ('5', ["#####", "#    ", "#### ", "    #", "#### "]),
    ('6', [" ### ", "#    ", "#### ", "#   #", " ### "]),
    ('7', ["#####", "    #", "   # ", "  #  ", "  #  "]),
    ('8', [" ### ", "#   #", " ### ", "#   #", " ### "]),
    ('9', [" ### ", "#   #", " ####", "    #", " ### "]),
    ('°', ["## ", "## ", "   ", "   ", "   "]),
    ('-', ["   ", "   ", "###", "   ", "   "]),
    ('+', ["   ", " # ", "###", " # ", "   "]),
    ('.', ["  ", "  ", "  ", "  ", "# "]),
    ('%', ["#   #", "   # ", "  #  ", " #   ", "#   #"]),
    (' ', ["  ", "  ", "  ", "  ", "  "]),
];

/// A word in big letters: its rows. A word that is wider than `width` comes back as one plain line with spaces.
pub fn rows(word: &str, width: usize, pixel: char) -> Vec<String> {
    let mut rows = vec![String::new(); ROWS];
    for letter in word.to_uppercase().replace('\u{2212}', "-").chars() {
        // What has no big letter is left out of a word that is read as a whole.
        let Some((_, glyph)) = GLYPHS.iter().find(|(known, _)| *known == letter) else { continue };
        for (row, part) in rows.iter_mut().zip(glyph) {
            row.extend(part.chars().map(|c| if c == '#' { pixel } else { ' ' }));
            row.push(' ');
        }
    }
    if rows[0].chars().count() > width + 1 {
        let spaced: String = word.chars().flat_map(|letter| [letter, ' ']).collect();
        return vec![String::new(), String::new(), spaced.trim_end().to_uppercase()];
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use hissward::words::Words;

    #[test]
    fn every_letter_is_as_wide_in_each_row() {
        for (letter, glyph) in GLYPHS {
            assert!(glyph.iter().all(|row| row.len() == glyph[0].len()), "{letter}");
        }
    }

    /// What is shown big fits 80 columns in every language, and every letter of it is known.
    #[test]
    fn the_big_words_fit_eighty_columns() {
        for language in Words::languages() {
            let words = Words::of(&language).expect("a language");
            let number = |value| hissward::caveat::Fact::Number { value, decimals: 0 };
            let facts = [("cylinder", number(12.0)), ("degrees", number(480.0))];
            let mut big: Vec<String> = [
                "cautions",
                "rig",
                "gauge",
                "cylinder",
                "turn",
                "top",
                "air-off",
                "temperature",
                "air-on",
                "air-pulsed",
                "open",
                "shut",
                "good",
                "again",
                "skip",
                "ranking",
                "end",
                "no-microphone",
                "nothing",
                "unsure",
            ]
            .iter()
            .map(|name| words.say(&format!("guide-big-{name}"), &facts))
            .collect();
            for name in ["intake", "exhaust", "oil-filler", "coolant-filler", "plug-hole-2", "rig"] {
                big.push(words.short_opening(&name.parse().expect("an opening")));
            }
            for word in big {
                assert_eq!(rows(&word, 80, '#').len(), ROWS, "{language}: {word}");
                let known = |c: char| GLYPHS.iter().any(|(known, _)| *known == c);
                assert!(word.to_uppercase().chars().all(known), "{language}: {word}");
            }
        }
    }
}
