//! Two banks that show the same and have nothing else in common.

/// The programme they belong to (invented).
pub(crate) const PROGRAMME: [(&str, &str); 4] = [
    ("curriculum/programme.yaml", "title: Twins\nedition: first\nabout: Invented.\nunits: si\n"),
    ("curriculum/plan.yaml", "starts: 2026-09-07\nweeks:\n  1: [know-it]\n"),
    (
        "curriculum/cautions.yaml",
        "cautions:\n  - { id: rolls, word: Turning rolls, says: Hands away. Follow your site's procedure and local codes. }\n",
    ),
    (
        "curriculum/01-one.yaml",
        "stage: one\nnumber: 1\ntitle: One\ncompetencies:\n  - id: know-it\n    title: Know it\n    criteria: [{ says: Does it }]\n    lesson: Short.\n",
    ),
];

/// The exercises, of every kind.
pub(crate) const EXERCISES: [&str; 8] = [
    "one-length",
    "two-lengths",
    "which-length",
    "one-option",
    "some-options",
    "five-moves",
    "strict-moves",
    "in-rounds",
];

/// The bank: lines that begin with a letter are of that side alone.
const BANK: &str = r#"topic: twins
title: Twins
exercises:
  - id: one-length
    competency: know-it
    title: One length
    level: apply
    minutes: 2
    givens:
      long: { between: [1101 mm, 1999 mm], every: 2 mm, symbol: L }
      short: { one_of: [22 mm, 24 mm, 26 mm, 28 mm, 32 mm, 34 mm, 36 mm, 38 mm], symbol: s }
    ask: A strip is {{ long }} long, a gap {{ short }} wide. What length does the deck ask for?
    steps:
A      - { name: left_over, is: "long - short", in: mm, shown_to: 1, because: "A1 takes the gap away." }
A      - { name: asked_for, symbol: X, says: Length, is: "left_over * 3", in: mm, shown_to: 1, because: "A2 takes it three times." }
B      - { name: both_together, symbol: q, is: "long + short", in: mm, shown_to: 1, because: "B1 adds the gap." }
B      - { name: nine_times, symbol: X, says: Length, is: "both_together * 9", in: mm, shown_to: 1, leeway: 1 %, because: "B2 takes it nine times." }
A    sane: 3000 mm .. 6000 mm
B    sane: 10 m .. 19 m
    wrong_turns:
A      - { name: once_only, at: asked_for, is: "left_over", because: "A3 took it once." }
A      - { name: gap_added, at: left_over, is: "long + short", because: "A4 added the gap." }
B      - { name: gap_forgotten, at: both_together, is: "long", because: "B3 forgot the gap." }
B      - { name: eight_times, at: nine_times, is: "both_together * 8", because: "B4 took it eight times." }
B      - { name: gap_alone, at: both_together, is: "short", because: "B5 took the gap alone." }

  - id: two-lengths
    competency: know-it
    title: Two lengths
    level: judge
    minutes: 3
    cautions: [rolls]
    tables:
      sets:
        - { plate: 1.14 mm, tape: 0.38 mm }
        - { plate: 1.16 mm, tape: 0.37 mm }
        - { plate: 1.17 mm, tape: 0.52 mm }
        - { plate: 1.13 mm, tape: 0.38 mm }
    givens:
      set: { row: sets }
      layers: { one_of: [11, 13, 17, 19, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49, 51, 53, 57, 59], symbol: n }
    ask: A plate of {{ set.plate }} lies on a tape of {{ set.tape }}, and {{ layers }} of these make a stack. What are they together?
    steps:
A      - { name: build, symbol: b, says: One of them, is: "set.plate + set.tape", in: mm, shown_to: 0.01, because: "A6 adds the tape." }
A      - { name: stack, symbol: S, says: The stack, is: "build * layers", in: mm, shown_to: 0.01, because: "A7 takes all of them." }
A    answers: [build, stack]
A    sane: 10 mm .. 200 mm
B      - { name: clear, symbol: b, says: One of them, is: "set.plate - set.tape", in: mm, shown_to: 0.01, leeway: 0.05 mm, because: "B6 takes the tape away." }
B      - { name: raised, is: "clear + '1 mm'", in: mm, shown_to: 0.01, because: "B7 raises it." }
B      - { name: pile, symbol: S, says: The stack, is: "raised * layers", in: mm, shown_to: 0.01, because: "B8 piles them up." }
B    answers: [clear, pile]
B    sane: 9 mm .. 300 mm
    wrong_turns:
A      - { name: tape_forgotten, at: build, is: "set.plate", because: "A8 forgot the tape." }
B      - { name: added, at: clear, is: "set.plate + set.tape", because: "B9 added the tape." }
B      - { name: not_raised, at: raised, is: "clear", because: "B10 left it where it was." }

  - id: which-length
    competency: know-it
    kind: choose
    title: Which length
    level: apply
    use: quiz
    minutes: 1
    givens:
      long: { between: [110 mm, 199 mm], every: 1 mm }
      short: { between: [11 mm, 29 mm], every: 1 mm }
    ask: A web is {{ long }} wide and a trim {{ short }}. Which width is meant?
    steps:
A      - { name: total, is: "long + short", in: mm, shown_to: 1, because: "A9 adds the trim." }
B      - { name: rest, is: "long - short", in: mm, shown_to: 1, because: "B11 takes the trim away." }
    wrong_turns:
A      - { name: taken_away, at: total, is: "long - short", because: "A10 took it away." }
A      - { name: twice, at: total, is: "long * 2", because: "A11 doubled the web." }
B      - { name: doubled, at: rest, is: "long * 2", because: "B12 doubled the web." }
B      - { name: added, at: rest, is: "long + short", because: "B13 added the trim." }
    options:
A      - { value: total, right: true }
A      - { value: total, turn: taken_away }
A      - { value: total, turn: twice }
B      - { value: rest, turn: added }
B      - { value: rest, right: true }
B      - { value: rest, turn: doubled }

  - id: one-option
    competency: know-it
    kind: choose
    title: One option
    level: recall
    use: quiz
    minutes: 1
    ask: What lays down more ink?
    options:
A      - { says: A coarse roll, right: true, because: "A12 says its cells hold more." }
A      - { says: A fine roll that is new, because: "A13 says its cells hold less." }
A      - { says: A worn roll, because: "A14 says it has lost volume." }
A      - { says: A roll at rest, because: "A15 says nothing moves." }
B      - { says: A coarse roll, because: "B14 says no to that." }
B      - { says: A fine roll that is new, because: "B15 says no as well." }
B      - { says: A worn roll, because: "B16 says hardly." }
B      - { says: A roll at rest, right: true, because: "B17 says yes to that." }

  - id: some-options
    competency: know-it
    kind: choose
    pick: some
    title: Some options
    level: recall
    use: quiz
    minutes: 1
    ask: Which of these belong on the sample?
    options:
A      - { says: Date and time, right: true, because: "A16 tells which is the latest." }
A      - { says: The name of who signed, right: true, because: "A17 tells who." }
A      - { says: The job number, right: true, because: "A18 tells which job." }
A      - { says: The weather outside, because: "A19 does not care." }
A      - { says: The price of the ink, because: "A20 does not care either." }
B      - { says: Date and time, because: "B18 leaves it out." }
B      - { says: The name of who signed, because: "B19 leaves it out too." }
B      - { says: The job number, because: "B20 leaves this out." }
B      - { says: The weather outside, because: "B21 leaves that out." }
B      - { says: The price of the ink, right: true, because: "B22 wants only this." }

  - id: five-moves
    competency: know-it
    kind: order
    title: Five moves
    level: judge
    use: quiz
    minutes: 2
    ask: Put these moves in an order that works.
A    moves: { stop: Stop the press, try_it: Try the start, look: Look at the roll, write: Write it down, tell: Tell the next crew }
A    before:
A      - { first: stop, then: try_it, because: "A21 stops first.", safety: true }
A      - { first: try_it, then: look, because: "A22 tries before looking.", safety: true }
A      - { first: look, then: write, because: "A23 writes what was seen." }
B    moves: { m_1: Stop the press, m_2: Try the start, m_3: Look at the roll, m_4: Write it down, m_5: Tell the next crew }
B    before:
B      - { first: m_5, then: m_4, because: "B23 tells first.", safety: true }
B      - { first: m_4, then: m_1, because: "B24 writes, then stops." }
B      - { first: m_3, then: m_2, because: "B25 looks first.", safety: true }
B      - { first: m_5, then: m_2, because: "B26 tells before trying." }

  - id: strict-moves
    competency: know-it
    kind: order
    title: Four moves
    level: judge
    use: quiz
    minutes: 2
A    strict: true
    ask: Put these moves in an order that works.
A    moves: { one: Fit the sleeve, two: Bring the deck in, three: Wet the roll, four: Set the blade }
A    before:
A      - { first: one, then: two, because: "A24 fits first." }
A      - { first: two, then: three, because: "A25 wets the roll last but one." }
A      - { first: three, then: four, because: "A26 sets a wet blade.", safety: true }
B    moves: { a_: Fit the sleeve, b_: Bring the deck in, c_: Wet the roll, d_: Set the blade }
B    before:
B      - { first: d_, then: a_, because: "B27 sets the blade first." }

  - id: in-rounds
    competency: know-it
    kind: rounds
    title: In rounds
    level: judge
    use: quiz
    minutes: 2
    ask: Bring the dial to where it should stand.
A    states: { s_1: { says: It stands at 1. }, s_2: { says: It stands at 2. }, s_3: { says: It stands at 3. }, s_4: { says: It stands at 4. } }
A    starts: [s_1, s_4]
A    ends: [s_2]
A    moves: { turn_up: Turn it up, turn_down: Turn it down, knock_it: Knock on it, wait: Wait a while }
A    leads:
A      - { from: s_1, by: turn_up, to: s_2, because: "A27 turns it up." }
A      - { from: s_2, by: turn_up, to: s_3, because: "A28 turns it past the mark." }
A      - { from: s_3, by: turn_up, to: s_4, because: "A29 turns it to the stop." }
A      - { from: s_4, by: turn_down, to: s_3, because: "A30 turns it down." }
A      - { from: s_3, by: turn_down, to: s_2, because: "A31 turns it to the mark." }
A      - { from: s_2, by: turn_down, to: s_1, because: "A32 turns it too far down." }
A    unsafe: { knock_it: "A33 breaks the dial." }
B    states: { b_1: { says: It stands at 1. }, b_2: { says: It stands at 2. }, b_3: { says: It stands at 3. }, b_4: { says: It stands at 4. } }
B    starts: [b_1, b_4]
B    ends: [b_3]
B    moves: { m_up: Turn it up, m_down: Turn it down, m_knock: Knock on it, m_wait: Wait a while }
B    leads:
B      - { from: b_1, by: m_up, to: b_2, because: "B28 is one step." }
B      - { from: b_2, by: m_up, to: b_3, because: "B29 is another." }
B      - { from: b_3, by: m_up, to: b_4, because: "B30 is one too many." }
B      - { from: b_4, by: m_down, to: b_3, because: "B31 is one step back." }
B      - { from: b_3, by: m_down, to: b_2, because: "B32 is too few." }
B      - { from: b_2, by: m_down, to: b_1, because: "B33 is far too few." }
"#;

/// The bank of a side.
pub(crate) fn bank(side: char) -> String {
    let line = |line: &str| match line.chars().next() {
        Some(first) if first.is_ascii_uppercase() => (first == side).then(|| format!("{}\n", &line[1..])),
        _ => Some(format!("{line}\n")),
    };
    BANK.lines().filter_map(line).collect()
}

/// The reasons of a side.
pub(crate) fn reasons(side: char) -> Vec<String> {
    let bank = bank(side);
    let reasons = bank.split("because: \"").skip(1);
    reasons.map(|rest| rest.split_once('"').expect("its end").0.to_owned()).collect()
}
