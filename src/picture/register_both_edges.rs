//! Register targets at both edges of the web, for skew.

use super::register_glass::{Glass, lengthwise, ruler, sideways};
use super::scales::{Ruler, arrow};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// Two register targets, one at each edge of the web, with one colour off the key.
pub(super) const REGISTER_BOTH_EDGES: Figure = Figure { name: "register-both-edges", draw, example };

const PER_MM: f64 = 76.0;
const REACH: f64 = 1.14;
const TOP: f64 = 62.0;
const GEAR: Glass = Glass { left: 44.0, top: TOP, per_mm: PER_MM, reach: REACH, mirrored: true, numbers: Some(240.0) };
const OPERATOR: Glass = Glass {
    left: 436.0 - 2.0 * REACH * PER_MM,
    top: TOP,
    per_mm: PER_MM,
    reach: REACH,
    mirrored: false,
    numbers: None,
};
const EDGES: (f64, f64) = (2.0, 478.0);

/// The width of the web as printed.
fn width(given: &Arguments, style: Style) -> String {
    let width = given.number("web_width");
    if given.word("unit") == "in" {
        format!("{} in", style.number(width / 25.4, 1))
    } else {
        format!("{} mm", style.number(width, 0))
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let ruler = ruler(given.word("unit"));
    let mut pen = Pen::new(480.0, 336.0);
    let sides = [
        ("gear side edge", GEAR, given.number("around_gear_side"), EDGES.0),
        ("operator side edge", OPERATOR, given.number("around_operator_side"), EDGES.1),
    ];
    for (side, glass, around, edge) in sides {
        glass.draw(&mut pen, &ruler, &[("1", given.number("across"), around)], style);
        pen.line(Ink::Heavy, (edge, 10.0), (edge, 316.0));
        pen.label((glass.left + glass.side() / 2.0, 27.0), Anchor::Middle, side);
    }
    arrow(&mut pen, (180.0, 294.0), (180.0, 266.0));
    pen.label((190.0, 285.0), Anchor::Start, "web runs this way");
    web_width(&mut pen, &width(given, style));
    let note = format!("magnified; 1 small space = {}", ruler.space(style));
    pen.small((240.0, 330.0), Anchor::Middle, &note);
    Drawing { svg: pen.finish(), words: words(given, &ruler, style) }
}

/// The dimension from edge to edge.
fn web_width(pen: &mut Pen, text: &str) {
    let y = 308.0;
    let text = format!("web {text} wide");
    arrow(pen, (170.0, y), (EDGES.0 + 2.0, y));
    arrow(pen, (310.0, y), (EDGES.1 - 2.0, y));
    pen.label((240.0, y + 4.5), Anchor::Middle, &text);
    pen.path(Ink::Broken, &format!("M{} 10h{}", n(EDGES.0), n(EDGES.1 - EDGES.0)));
}

fn words(given: &Arguments, ruler: &Ruler, style: Style) -> String {
    let at = |name: &str| lengthwise(ruler, given.number(name), style);
    format!(
        "Targets stand at both edges of a web {} wide; colour 1 is told from the key in small spaces of {}. \
         At the gear side edge it lies {}, at the operator side edge {}. \
         Across it lies {} at both edges. Ahead is the way the web runs.",
        width(given, style),
        ruler.space(style),
        at("around_gear_side"),
        at("around_operator_side"),
        sideways(ruler, given.number("across"), style).trim_end_matches(" across"),
    )
}

fn example(n: u32) -> Arguments {
    let (gear, operator, across, width, unit) = match n {
        0 => (0.3, -0.1, 0.15, 330.0, "mm"),
        1 => (-0.25, 0.2, 0.0, 410.0, "mm"),
        2 => (0.1524, 0.4572, -0.1016, 330.2, "in"),
        3 => (0.1, 0.1, -0.35, 250.0, "mm"),
        4 => (-0.85, -0.35, 0.5, 520.0, "mm"),
        _ => (0.0, -0.3048, 0.2032, 431.8, "in"),
    };
    let mut given = Arguments { grain: u64::from(n), ..Arguments::default() };
    for (name, value) in
        [("around_gear_side", gear), ("around_operator_side", operator), ("across", across), ("web_width", width)]
    {
        given.numbers.insert(name.to_owned(), value);
    }
    given.words.insert("unit".to_owned(), unit.to_owned());
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, numbers, pulls, sound};

    #[test]
    fn both_crosses_lie_as_given_by_the_scale_drawn() {
        for given in pulls(&REGISTER_BOTH_EDGES, 240, &|_| 0) {
            let drawing = sound(&REGISTER_BOTH_EDGES, &given);
            let seen = Seen::of(&drawing.svg);
            let small = if given.word("unit") == "in" { 0.0508 } else { 0.1 };
            for (edge, name) in ["around_gear_side", "around_operator_side"].into_iter().enumerate() {
                let marks = &seen.named("scale")[edge];
                let a_mm = (marks[4].0 - marks[0].0) / small;
                let key = (seen.named("key-across")[edge][0].0, seen.named("key-around")[edge][0].1);
                let cross = (seen.named("cross-across")[edge][0].0, seen.named("cross-around")[edge][0].1);
                assert!(((key.1 - cross.1) / a_mm - given.number(name)).abs() < 0.012, "{given:?}");
                assert!(((cross.0 - key.0) / a_mm - given.number("across")).abs() < 0.012, "{given:?}");
            }
            let width = seen
                .texts
                .iter()
                .find(|text| text.says.starts_with("web ") && text.high.1 > 300.0)
                .expect("it is there");
            let (a_unit, place) = if given.word("unit") == "in" { (25.4, 0.1) } else { (1.0, 1.0) };
            let off = numbers(&width.says)[0] - given.number("web_width") / a_unit;
            assert!(off.abs() <= place / 2.0 + 1e-9, "{given:?}");
        }
    }

    #[test]
    fn words_tell_both_edges() {
        let words = draw(&example(0), Style { mark: '.' }).words;
        assert!(words.contains("a web 330 mm wide"), "{words}");
        assert!(
            words.contains("At the gear side edge it lies 3 ahead, at the operator side edge 1 behind."),
            "{words}"
        );
        assert!(words.contains("Across it lies 1.5 toward the operator side at both edges."), "{words}");
        let words = draw(&example(1), Style { mark: '.' }).words;
        assert!(words.contains("Across it lies true at both edges."), "{words}");
    }
}
