//! What the tests of the figures measure with: a drawing as an eye would see it, from its coordinates alone.

use roxmltree::{Document, Node};

use super::gauge::subpaths;
use super::{Arguments, Drawing, Figure, Grain, Kind, Style};

/// Points of lines that hang together.
pub(super) type Points = Vec<(f64, f64)>;

/// A text and the box it takes up.
#[derive(Debug, Clone)]
pub(super) struct Text {
    pub says: String,
    pub low: (f64, f64),
    pub high: (f64, f64),
}

/// What there is to see.
#[derive(Debug, Default)]
pub(super) struct Seen {
    pub size: (f64, f64),
    pub lines: Vec<Points>,
    pub texts: Vec<Text>,
    named: Vec<(String, Points)>,
}

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap_or_else(|| panic!("no {name}")).parse().expect("it is there")
}

/// The numbers of a text, apart from all else.
pub(super) fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter(|part| part.contains(|c: char| c.is_ascii_digit()))
        .map(|part| part.trim_end_matches('.').parse().expect("it is there"))
        .collect()
}

impl Seen {
    /// Looks at a drawing.
    pub(super) fn of(svg: &str) -> Self {
        let document = Document::parse(svg).expect("it is there");
        let root = document.root_element();
        let size = numbers(root.attribute("viewBox").expect("it is there"));
        let mut seen = Self { size: (size[2], size[3]), ..Self::default() };
        for node in root.descendants().filter(Node::is_element) {
            for barred in ["style", "id", "fill", "stroke"] {
                assert!(node.attribute(barred).is_none(), "{barred} is barred");
            }
            match node.tag_name().name() {
                "path" => seen.path(node),
                "circle" => seen.circle(node),
                "text" => seen.text(node),
                "rect" => {
                    let (x, y) = (number(node, "x"), number(node, "y"));
                    let (w, h) = (number(node, "width"), number(node, "height"));
                    seen.lines.push(vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]);
                }
                "svg" | "g" => {}
                other => panic!("{other} is not drawn with"),
            }
        }
        seen
    }

    fn path(&mut self, node: Node<'_, '_>) {
        let drawn = subpaths(node.attribute("d").expect("it is there"));
        if let Some((_, name)) = node.attribute("class").expect("it is there").split_once(' ') {
            assert!(name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{name} is not a plain word");
            self.named.push((name.to_owned(), drawn.concat()));
        }
        self.lines.extend(drawn);
    }

    fn circle(&mut self, node: Node<'_, '_>) {
        let (x, y, r) = (number(node, "cx"), number(node, "cy"), number(node, "r"));
        let round = (0..=48).map(|i| f64::from(i) / 24.0 * std::f64::consts::PI);
        self.lines.push(round.map(|angle| (x + r * libm::cos(angle), y + r * libm::sin(angle))).collect());
    }

    fn text(&mut self, node: Node<'_, '_>) {
        let says = node.text().expect("it is there").to_owned();
        let tall = if node.attribute("class") == Some("p-label") { 13.0 } else { 11.0 };
        let wide: f64 = says.chars().map(|c| if "il.,' jtfr".contains(c) { 0.34 } else { 0.58 }).sum::<f64>() * tall;
        let from = match node.attribute("text-anchor") {
            Some("middle") => -wide / 2.0,
            Some("end") => -wide,
            _ => 0.0,
        };
        let (x, y) = (number(node, "x"), number(node, "y"));
        let (mut low, mut high) = ((x + from, y - 0.74 * tall), (x + from + wide, y + 0.04 * tall));
        if let Some(turned) = node.parent().and_then(|group| group.attribute("transform")) {
            let about = numbers(turned);
            assert!(turned.starts_with("rotate(-90 ") && about.len() == 3, "{turned}");
            let turn = |p: (f64, f64)| (about[1] + p.1 - about[2], about[2] - (p.0 - about[1]));
            let (a, b) = (turn(low), turn(high));
            (low, high) = ((a.0.min(b.0), a.1.min(b.1)), (a.0.max(b.0), a.1.max(b.1)));
        }
        self.texts.push(Text { says, low, high });
    }

    /// The points of all that bears a name, in the order drawn.
    pub(super) fn named(&self, name: &str) -> Vec<Points> {
        self.named.iter().filter(|(other, _)| other == name).map(|(_, points)| points.clone()).collect()
    }

    /// The points of the one thing that bears a name.
    pub(super) fn one(&self, name: &str) -> Points {
        let all = self.named(name);
        assert_eq!(all.len(), 1, "{name}");
        all[0].clone()
    }

    /// The text that says this.
    pub(super) fn text_saying(&self, says: &str) -> Option<&Text> {
        self.texts.iter().find(|text| text.says == says)
    }
}

/// Whether a line comes into a box.
fn comes_into(a: (f64, f64), b: (f64, f64), low: (f64, f64), high: (f64, f64)) -> bool {
    let (mut begin, mut end) = (0.0_f64, 1.0_f64);
    for (from, to, low, high) in [(a.0, b.0, low.0, high.0), (a.1, b.1, low.1, high.1)] {
        let run = to - from;
        if run.abs() < 1e-9 {
            if from < low || from > high {
                return false;
            }
            continue;
        }
        let (one, two) = ((low - from) / run, (high - from) / run);
        begin = begin.max(one.min(two));
        end = end.min(one.max(two));
    }
    begin <= end
}

/// Draws, and asserts what holds for each figure: size, sheet, labels clear of all else, plain words, the same twice.
pub(super) fn sound(figure: &Figure, given: &Arguments) -> Drawing {
    let drawing = (figure.draw)(given, Style { mark: '.' });
    assert_eq!(drawing, (figure.draw)(given, Style { mark: '.' }));
    assert!(drawing.svg.len() <= 12_000, "{} bytes: {given:?}", drawing.svg.len());
    let seen = Seen::of(&drawing.svg);
    assert!(seen.size.0 <= 480.0 && seen.size.1 <= seen.size.0 * 1.08, "{:?}", seen.size);
    let on_sheet = |&(x, y): &(f64, f64)| x >= 0.0 && y >= 0.0 && x <= seen.size.0 && y <= seen.size.1;
    for line in &seen.lines {
        assert!(line.iter().all(on_sheet), "{line:?} runs out: {given:?}");
    }
    for (i, text) in seen.texts.iter().enumerate() {
        assert!(on_sheet(&text.low) && on_sheet(&text.high), "{text:?} runs out: {given:?}");
        for other in &seen.texts[i + 1..] {
            let apart = text.high.0 < other.low.0
                || other.high.0 < text.low.0
                || text.high.1 < other.low.1
                || other.high.1 < text.low.1;
            assert!(apart, "{text:?} on {other:?}: {given:?}");
        }
        for line in seen.lines.iter().flat_map(|line| line.windows(2)) {
            assert!(!comes_into(line[0], line[1], text.low, text.high), "{text:?} on {line:?}: {given:?}");
        }
    }
    plain(&drawing.words);
    drawing
}

/// Asserts that words are one to six sentences of at most 28 words.
fn plain(words: &str) {
    let sentences: Vec<&str> = words.strip_suffix('.').unwrap_or_else(|| panic!("{words}")).split(". ").collect();
    assert!(sentences.len() <= 6, "{words}");
    for sentence in sentences {
        assert!(sentence.split_whitespace().count() <= 28, "{sentence}");
        assert!(sentence.starts_with(|c: char| c.is_ascii_uppercase()), "{sentence}");
        assert!(!sentence.contains("  ") && !sentence.contains('_'), "{sentence}");
    }
}

/// The six examples, the ends of each range, and so many sets of arguments by chance; `long` says how long a series is,
/// given what stands so far.
pub(super) fn pulls(figure: &Figure, count: u64, long: &dyn Fn(&Arguments) -> usize) -> Vec<Arguments> {
    let mut all: Vec<Arguments> = (0..6).map(figure.example).collect();
    for seed in 0..count {
        let mut chance = Grain::new(seed);
        // The first pulls stand at ends of ranges only.
        let ends = seed < count / 2;
        let mut given = Arguments { grain: seed, ..Arguments::default() };
        let mut pull = |least: f64, most: f64| match (ends, chance.unit()) {
            (true, part) if part < 0.5 => least,
            (true, _) => most,
            (false, part) => least + (most - least) * part,
        };
        for takes in crate::trade::figures::figure(figure.name).expect("known").takes {
            let name = takes.name.to_owned();
            if takes.optional && pull(0.0, 1.0) > 0.7 {
                continue;
            }
            match takes.kind {
                Kind::Number { least, most, .. } => {
                    given.numbers.insert(name, pull(least, most));
                }
                Kind::Series { least, most, .. } => {
                    let long = long(&given);
                    given.series.insert(name, (0..long).map(|_| pull(least, most)).collect());
                }
                Kind::Word(words) => {
                    let many = f64::from(u32::try_from(words.len()).expect("it is there"));
                    let at = pull(0.0, 0.999) * many;
                    let word = (0u32..).zip(words).take_while(|(i, _)| f64::from(*i) <= at).last();
                    given.words.insert(name, (*word.expect("it is there").1).to_owned());
                }
            }
        }
        all.push(given);
    }
    all
}

#[test]
fn a_line_through_a_box_is_found() {
    assert!(comes_into((0.0, 0.0), (10.0, 10.0), (4.0, 4.0), (6.0, 6.0)));
    assert!(comes_into((5.0, 0.0), (5.0, 10.0), (4.0, 4.0), (6.0, 6.0)));
    assert!(!comes_into((7.0, 0.0), (7.0, 10.0), (4.0, 4.0), (6.0, 6.0)));
    assert!(!comes_into((0.0, 8.0), (8.0, 16.0), (4.0, 4.0), (6.0, 6.0)));
    assert!(!comes_into((0.0, 0.0), (3.0, 3.0), (4.0, 4.0), (6.0, 6.0)));
}
