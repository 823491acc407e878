//! What every figure has to keep: size, edges, texts that do not collide, plain words.

use super::{Arguments, Drawing, Figure, Kind, Style};

/// A point on the sheet.
pub(super) type Point = (f64, f64);

/// The decimal point.
pub(super) const POINT: Style = Style { mark: '.' };

/// The six examples and every corner of what a figure takes.
pub(super) fn cases(figure: &Figure) -> Vec<Arguments> {
    let examples: Vec<Arguments> = (0..6).map(figure.example).collect();
    let mut corners = vec![Arguments::default()];
    for takes in crate::trade::figures::figure(figure.name).expect("known").takes {
        let mut next = Vec::new();
        for corner in &corners {
            if takes.optional {
                next.push(corner.clone());
            }
            match takes.kind {
                Kind::Number { least, most, .. } => {
                    for value in [least, most] {
                        let mut more = corner.clone();
                        more.numbers.insert(takes.name.to_owned(), value);
                        next.push(more);
                    }
                }
                Kind::Word(words) => {
                    for word in words {
                        let mut more = corner.clone();
                        more.words.insert(takes.name.to_owned(), (*word).to_owned());
                        next.push(more);
                    }
                }
                Kind::Series { .. } => unreachable!("no series among these figures"),
            }
        }
        corners = next;
    }
    let mut ends = Vec::new();
    for takes in crate::trade::figures::figure(figure.name).expect("known").takes {
        if let Kind::Number { least, most, .. } = takes.kind {
            for example in &examples {
                for value in [least, most] {
                    let mut more = example.clone();
                    more.numbers.insert(takes.name.to_owned(), value);
                    ends.push(more);
                }
            }
        }
    }
    [examples, ends, corners].concat()
}

/// Checks all that holds for every figure, for every case.
pub(super) fn holds(figure: &Figure) {
    for given in cases(figure) {
        let drawing = (figure.draw)(&given, POINT);
        assert_eq!(drawing, (figure.draw)(&given, POINT), "drawn twice the same");
        assert!(drawing.svg.len() <= 12_000, "{} bytes for {given:?}", drawing.svg.len());
        for banned in ["style=", " id=", "<defs", "#", "url("] {
            assert!(!drawing.svg.contains(banned), "{banned}");
        }
        within_and_apart(&drawing, &given);
        plain(&drawing.words);
        let comma = (figure.draw)(&given, Style { mark: ',' });
        let words = comma.words.as_bytes();
        for three in words.windows(3) {
            let [a, b, c] = three else { continue };
            assert!(!(a.is_ascii_digit() && *b == b'.' && c.is_ascii_digit()), "{}", comma.words);
        }
    }
}

fn plain(words: &str) {
    let sentences: Vec<&str> = words.trim_end_matches('.').split(". ").collect();
    assert!((1..=4).contains(&sentences.len()), "{words}");
    for sentence in sentences {
        assert!(sentence.split_whitespace().count() <= 28, "{sentence}");
        assert!(sentence.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit()), "{sentence}");
    }
    assert!(words.ends_with('.') && !words.contains('_') && !words.contains("  "), "{words}");
}

struct Frame {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
    says: String,
}

fn text_frames(svg: &roxmltree::Document<'_>) -> Vec<Frame> {
    let texts = svg.descendants().filter(|node| node.has_tag_name("text"));
    let frame = |node: roxmltree::Node<'_, '_>| {
        let says = node.text().expect("it is there").to_owned();
        let size = if node.attribute("class") == Some("p-label") { 13.0 } else { 11.0 };
        let wide = says.chars().map(|c| if "il.,:'j ".contains(c) { 0.30 } else { 0.57 }).sum::<f64>() * size;
        let (x, y) = (number(node, "x"), number(node, "y"));
        let left = match node.attribute("text-anchor") {
            None => x,
            Some("middle") => x - wide / 2.0,
            Some(_) => x - wide,
        };
        Frame { left, top: y - 0.75 * size, right: left + wide, bottom: y + 0.1 * size, says }
    };
    texts.map(frame).collect()
}

fn within_and_apart(drawing: &Drawing, given: &Arguments) {
    let svg = roxmltree::Document::parse(&drawing.svg).expect("it is there");
    let view: Vec<f64> = svg
        .root_element()
        .attribute("viewBox")
        .expect("it is there")
        .split(' ')
        .map(|v| v.parse().expect("it is there"))
        .collect();
    let (width, height) = (view[2], view[3]);
    assert!((320.0..=480.0).contains(&width) && height <= width * 1.02);
    let frames = text_frames(&svg);
    for (index, one) in frames.iter().enumerate() {
        let inside = one.left >= 0.0 && one.right <= width && one.top >= 0.0 && one.bottom <= height;
        assert!(inside, "{:?} runs out at {} {}: {given:?}", one.says, one.left, one.right);
        for other in &frames[..index] {
            let apart = one.right < other.left
                || other.right < one.left
                || one.bottom < other.top + 0.3
                || other.bottom < one.top + 0.3;
            assert!(apart, "{:?} on {:?}: {given:?}", one.says, other.says);
        }
    }
    for node in svg.descendants().filter(|node| node.has_tag_name("circle")) {
        let (x, y, r) = (number(node, "cx"), number(node, "cy"), number(node, "r"));
        assert!(x - r >= 0.0 && x + r <= width && y - r >= 0.0 && y + r <= height, "a circle runs out: {given:?}");
        for frame in &frames {
            let across = [
                (frame.left, frame.top),
                (frame.right, frame.bottom),
                (frame.left, frame.bottom),
                (frame.right, frame.top),
            ];
            let inside = across.iter().filter(|p| (p.0 - x).hypot(p.1 - y) < r).count();
            assert!(inside == 0 || inside == 4, "a circle through {:?}: {given:?}", frame.says);
        }
    }
    for node in svg.descendants().filter(|node| node.has_tag_name("path")) {
        let class = node.attribute("class").expect("it is there");
        for line in subpaths(node.attribute("d").expect("it is there")) {
            for &(x, y) in &line {
                assert!((0.0..=width).contains(&x) && (0.0..=height).contains(&y), "{class} {x} {y}: {given:?}");
            }
            for pair in line.windows(2) {
                for frame in &frames {
                    assert!(!crosses(pair[0], pair[1], frame), "{class} through {:?}: {given:?}", frame.says);
                }
            }
        }
    }
}

fn crosses(from: Point, to: Point, frame: &Frame) -> bool {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in
        [(from.0, to.0 - from.0, frame.left, frame.right), (from.1, to.1 - from.1, frame.top, frame.bottom)]
    {
        if step.abs() < 1e-9 {
            if start <= low || start >= high {
                return false;
            }
        } else {
            let (a, b) = ((low - start) / step, (high - start) / step);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
    }
    enter < leave
}

/// Which way an arrow turns about a centre, from the arc to its head: more than nought is with the clock.
pub(super) fn turning(drawing: &Drawing, centre: Point) -> f64 {
    let near = |at: Point| (at.0 - centre.0).hypot(at.1 - centre.1);
    let arcs = named(drawing, "turn");
    let nearest = |strokes: &[Vec<Point>]| -> Vec<Point> {
        let of = |stroke: &Vec<Point>| stroke.iter().map(|p| near(*p)).fold(f64::INFINITY, f64::min);
        strokes.iter().min_by(|a, b| of(a).total_cmp(&of(b))).expect("it is there").clone()
    };
    let (arc, heads) = (nearest(&arcs), nearest(&named(drawing, "turn-head")));
    let (tip, left, right) = (heads[0], heads[1], heads[2]);
    let back = (f64::midpoint(left.0, right.0), f64::midpoint(left.1, right.1));
    let cross =
        |from: Point, to: Point| (from.0 - centre.0) * (to.1 - centre.1) - (from.1 - centre.1) * (to.0 - centre.0);
    assert!(cross(arc[0], tip) * cross(back, tip) > 0.0, "the head points on where the arc leads");
    cross(back, tip)
}

/// Every text and where it stands.
pub(super) fn texts(drawing: &Drawing) -> Vec<(Point, String)> {
    let svg = roxmltree::Document::parse(&drawing.svg).expect("it is there");
    let nodes = svg.descendants().filter(|node| node.has_tag_name("text"));
    nodes.map(|node| ((number(node, "x"), number(node, "y")), node.text().expect("it is there").to_owned())).collect()
}

fn number(node: roxmltree::Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).expect("it is there").parse().expect("it is there")
}

/// The points of every path with a name, stroke by stroke.
pub(super) fn named(drawing: &Drawing, name: &str) -> Vec<Vec<Point>> {
    let svg = roxmltree::Document::parse(&drawing.svg).expect("it is there");
    let has = |node: &roxmltree::Node<'_, '_>| node.attribute("class").is_some_and(|c| c.split(' ').any(|c| c == name));
    svg.descendants().filter(has).flat_map(|node| subpaths(node.attribute("d").expect("it is there"))).collect()
}

/// Left, top, right and bottom of a path that must be there once.
pub(super) fn bounds(drawing: &Drawing, name: &str) -> (f64, f64, f64, f64) {
    let points: Vec<Point> = named(drawing, name).concat();
    assert!(!points.is_empty(), "no {name}");
    let fold =
        |pick: fn(&Point) -> f64, join: fn(f64, f64) -> f64| points.iter().map(pick).reduce(join).expect("it is there");
    (fold(|p| p.0, f64::min), fold(|p| p.1, f64::min), fold(|p| p.0, f64::max), fold(|p| p.1, f64::max))
}

/// Path data as points, stroke by stroke; arcs in small steps.
pub(super) fn subpaths(data: &str) -> Vec<Vec<Point>> {
    let mut strokes: Vec<Vec<Point>> = Vec::new();
    let mut at = (0.0, 0.0);
    let mut rest = data;
    while let Some(command) = rest.chars().next() {
        let end = rest[1..].find(|c: char| c.is_ascii_alphabetic()).map_or(rest.len(), |end| end + 1);
        let numbers: Vec<f64> =
            rest[1..end].replace('-', " -").split_whitespace().map(|v| v.parse().expect("it is there")).collect();
        rest = &rest[end..];
        match command {
            'M' | 'm' => {
                at = if command == 'M' { (numbers[0], numbers[1]) } else { (at.0 + numbers[0], at.1 + numbers[1]) };
                strokes.push(vec![at]);
            }
            'Z' | 'z' => {
                at = strokes.last().expect("it is there")[0];
                strokes.last_mut().expect("it is there").push(at);
            }
            'L' | 'l' => {
                for pair in numbers.chunks(2) {
                    at = if command == 'L' { (pair[0], pair[1]) } else { (at.0 + pair[0], at.1 + pair[1]) };
                    strokes.last_mut().expect("it is there").push(at);
                }
            }
            'H' | 'h' | 'V' | 'v' => {
                at = match command {
                    'H' => (numbers[0], at.1),
                    'h' => (at.0 + numbers[0], at.1),
                    'V' => (at.0, numbers[0]),
                    _ => (at.0, at.1 + numbers[0]),
                };
                strokes.last_mut().expect("it is there").push(at);
            }
            'A' | 'a' => {
                let off = if command == 'A' { (0.0, 0.0) } else { at };
                let end = (numbers[5] + off.0, numbers[6] + off.1);
                // An oval is a circle that has been stretched.
                let tall = numbers[1] / numbers[0];
                let flat = |p: Point| (p.0, p.1 / tall);
                let round = bend(flat(at), flat(end), numbers[0], numbers[3] > 0.5, numbers[4] > 0.5);
                strokes.last_mut().expect("it is there").extend(round.iter().map(|p| (p.0, p.1 * tall)));
                at = end;
            }
            other => panic!("{other} in {data}"),
        }
    }
    strokes
}

fn bend(from: Point, to: Point, radius: f64, large: bool, sweep: bool) -> Vec<Point> {
    let half = ((to.0 - from.0) / 2.0, (to.1 - from.1) / 2.0);
    let reach = half.0.hypot(half.1);
    if reach < 1e-9 {
        return vec![to];
    }
    let radius = radius.max(reach);
    let off = (radius * radius - reach * reach).max(0.0).sqrt() / reach;
    let side = if large == sweep { 1.0 } else { -1.0 };
    let centre = (from.0 + half.0 + side * off * half.1, from.1 + half.1 - side * off * half.0);
    let start = (from.1 - centre.1).atan2(from.0 - centre.0);
    let stop = (to.1 - centre.1).atan2(to.0 - centre.0);
    let full = std::f64::consts::TAU;
    let angle = if sweep { (stop - start).rem_euclid(full) } else { -(start - stop).rem_euclid(full) };
    (1..=48)
        .map(|i| start + angle * f64::from(i) / 48.0)
        .map(|a| (centre.0 + radius * libm::cos(a), centre.1 + radius * libm::sin(a)))
        .collect()
}

#[test]
fn the_measuring_itself_measures() {
    let strokes = subpaths("M10 0A10 10 0 0 1 0 10L5 5l1 1 2-.5zM1 1v3H9");
    assert_eq!(strokes.len(), 2);
    assert!(strokes[0].iter().take(49).all(|p| (p.0.hypot(p.1) - 10.0).abs() < 1e-6), "about the origin");
    assert_eq!(strokes[0].last(), Some(&(10.0, 0.0)));
    assert_eq!(strokes[0][50..52], [(6.0, 6.0), (8.0, 5.5)]);
    assert_eq!(strokes[1], [(1.0, 1.0), (1.0, 4.0), (9.0, 4.0)]);
    let ovals = subpaths("M1 1l1 1m-1 2.5a3 6 0 1 1 6 0a3 6 0 1 1-6 0z");
    let off = |p: &Point| ((p.0 - 4.0) / 3.0).hypot((p.1 - 4.5) / 6.0);
    assert!(ovals.len() == 2 && ovals[1].iter().all(|p| (off(p) - 1.0).abs() < 1e-6), "{ovals:?}");
    let frame = Frame { left: 0.0, top: 0.0, right: 10.0, bottom: 10.0, says: String::new() };
    assert!(crosses((-5.0, 5.0), (15.0, 6.0), &frame));
    assert!(!crosses((-5.0, 11.0), (15.0, 11.0), &frame));
    assert!(!crosses((-5.0, 5.0), (-1.0, 5.0), &frame));
}
