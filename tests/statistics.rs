//! The statistics of classes against published data and by-hand cases.
//!
//! The answers are those of `tests/reference/classes/lsat6.csv`. Values for it
//! were computed from the definitions with numpy 2 and pingouin and, where it is
//! said, published; each is held to the digits given.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::Path;

use gearside::marking::WrongWay;
use gearside::marking::statistics::{
    Answers, Notice, Sitting, WhyNot, advice, alpha, alpha_without, correlation, error_of_measurement,
    exercise_statistics, expected_cut, family_statistics, length_for, lengthened, mean, quiz_statistics,
    rest_correlation, variance, wilson,
};

/// Each published pattern as often as it was seen.
fn patterns() -> Vec<Vec<f64>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/classes/lsat6.csv");
    let text = fs::read_to_string(path).expect("the answers");
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines
        .flat_map(|line| {
            let fields: Vec<u32> = line.split(',').map(|field| field.parse().expect("a count")).collect();
            let marks: Vec<f64> = fields[..5].iter().map(|mark| f64::from(*mark)).collect();
            vec![marks; fields[5] as usize]
        })
        .collect()
}

fn answers(rows: &[Vec<f64>]) -> Answers {
    let rows: Vec<Vec<Option<f64>>> = rows.iter().map(|row| row.iter().copied().map(Some).collect()).collect();
    Answers::new(rows.first().map_or(0, Vec::len), rows).expect("marks")
}

fn near(got: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((got - wanted).abs() <= tolerance, "{what}: {got}, expected {wanted}");
}

fn totals(rows: &[Vec<f64>]) -> Vec<f64> {
    rows.iter().map(|row| row.iter().sum()).collect()
}

#[test]
fn a_thousand_takers_have_the_published_totals() {
    let rows = patterns();
    assert_eq!(rows.len(), 1000);
    let totals = totals(&rows);
    near(mean(&totals), 3.819, 5e-13, "mean");
    near(variance(&totals), 1.071_310_310_310_31, 5e-14, "variance over n − 1");
    near(variance(&totals) * 999.0 / 1000.0, 1.070_239, 5e-13, "variance over n");
    let counts: Vec<usize> =
        (0..=5).map(|score| totals.iter().filter(|total| (**total - f64::from(score)).abs() < 0.5).count()).collect();
    assert_eq!(counts, [3, 20, 85, 237, 357, 298]);
    for (exercise, wanted) in [0.924, 0.709, 0.553, 0.763, 0.870].into_iter().enumerate() {
        near(mean(&answers(&rows).on(exercise)), wanted, 5e-13, "difficulty");
    }
}

#[test]
fn a_thousand_takers_have_the_published_correlations() {
    let rows = patterns();
    let class = answers(&rows);
    let table = [
        (0.362_010_437_161_761_84, 0.112_832_688_922_342_24),
        (0.566_772_095_384_457_8, 0.153_178_120_116_528_87),
        (0.618_439_753_567_371, 0.172_778_943_291_087_67),
        (0.534_418_326_243_923_7, 0.144_428_095_247_094_05),
        (0.435_366_427_887_605_5, 0.121_596_402_547_096_14),
    ];
    for (exercise, (with_itself, corrected)) in table.into_iter().enumerate() {
        let with = correlation(&class.on(exercise), &totals(&rows)).expect("they vary");
        near(with, with_itself, 1e-13, "point-biserial with the exercise itself");
        near(rest_correlation(&class, exercise).expect("they vary"), corrected, 1e-13, "corrected point-biserial");
    }
}

#[test]
fn a_thousand_takers_have_the_published_reliability() {
    let rows = patterns();
    let class = answers(&rows);
    let found = alpha(&class).expect("they vary");
    near(found.alpha, 0.294_997_192_215_944, 1e-13, "alpha, which is KR-20 here");
    near(found.alpha, 0.295, 5e-4, "as published");
    // Shares right and wrong over n with the variance of totals over n − 1: the usual mixture, which is wrong.
    assert!((found.alpha - 0.295_952_195_023_728).abs() > 9e-4);
    // The 95 % interval of Feldt that pingouin gives is .223 to .362. It supposes that all covariances are
    // equal, which they are not quite: near, and no more.
    near(found.alpha - 1.96 * found.standard_error, 0.223, 6e-3, "lower end");
    near(found.alpha + 1.96 * found.standard_error, 0.362, 6e-3, "upper end");
    let without = [
        0.275_356_210_798_242_8,
        0.237_583_904_646_682_9,
        0.216_799_462_943_291_8,
        0.245_932_710_433_587_9,
        0.266_294_411_208_269_6,
    ];
    for (exercise, wanted) in without.into_iter().enumerate() {
        near(alpha_without(&class, exercise).expect("they vary"), wanted, 1e-13, "alpha without one");
    }
    near(error_of_measurement(&class).expect("they vary"), 0.869_066_612_393_306, 1e-13, "error of measurement");
    // KR-21 needs only mean and variance of the totals.
    let (middle, spread) = (mean(&totals(&rows)), variance(&totals(&rows)) * 0.999);
    let kr21 = 5.0 / 4.0 * (1.0 - middle * (5.0 - middle) / (5.0 * spread));
    near(kr21, 0.196_441_168_748_288_65, 1e-13, "KR-21");
}

#[test]
fn the_error_of_alpha_is_the_closed_form_where_covariances_are_equal() {
    // Two exercises of equal variance a and covariance b = 0.8 a: alpha = 2 b / (a + b) = 8/9. With equal
    // covariances (van Zyl, Neudecker & Nel 2000) the error is (1 − alpha) √(2 k / ((k − 1) n)) = 1/9 · 2/√40.
    let groups = [(1.0, 1.0, 18), (0.0, 0.0, 18), (1.0, 0.0, 2), (0.0, 1.0, 2)];
    let rows: Vec<Vec<f64>> = groups.iter().flat_map(|(one, other, times)| vec![vec![*one, *other]; *times]).collect();
    let found = alpha(&answers(&rows)).expect("they vary");
    near(found.alpha, 8.0 / 9.0, 1e-12, "alpha");
    near(found.standard_error, 2.0 / 9.0 / 40.0_f64.sqrt(), 1e-12, "its error");
    assert_eq!(found.takers, 40);
}

#[test]
fn lengthening_follows_spearman_and_brown() {
    let rows = patterns();
    let half =
        |picked: &[usize]| -> Vec<f64> { rows.iter().map(|row| picked.iter().map(|one| row[*one]).sum()).collect() };
    let r = correlation(&half(&[0, 2, 4]), &half(&[1, 3])).expect("they vary");
    near(r, 0.203_360_359_805_388_27, 1e-13, "split half 135 against 24");
    near(lengthened(r, 2.0), 0.337_987_466_760_624_24, 1e-13, "twice as long");
    let alpha = alpha(&answers(&rows)).expect("they vary").alpha;
    near(lengthened(alpha, 4.0), 0.625_991_534_117_200_2, 1e-13, "four times as long");
    near(length_for(alpha, 0.8).expect("both inside"), 9.559_451_091_561_291, 1e-11, "for 0.80");
    assert_eq!(length_for(-0.1, 0.8), Err(WhyNot::NoLength));
}

#[test]
fn score_intervals_are_those_of_newcombe_and_statsmodels() {
    // Newcombe, Stat. Med. 17 (1998) 857–872, gives the first four to four places; all by statsmodels.
    let table = [
        (81.0, 263, 0.255_288_519_878_274_2, 0.366_209_576_982_800_04),
        (15.0, 148, 0.062_386_399_530_736_28, 0.160_487_241_723_308_03),
        (0.0, 20, 0.0, 0.161_125_158_052_819_4),
        (1.0, 29, 0.0061, 0.1718),
        (0.0, 10, 0.0, 0.277_532_799_862_889_26),
        (8.0, 10, 0.490_162_471_536_641_83, 0.943_317_848_545_624_7),
        (10.0, 10, 0.722_467_200_137_110_6, 1.0),
        (19.0, 20, 0.763_868_806_553_257_7, 0.991_118_551_199_204_4),
    ];
    for (right, takers, low, high) in table {
        let interval = wilson(right, takers);
        let tolerance = if takers == 29 { 5e-5 } else { 1e-12 };
        near(interval.lo, low, tolerance, "lower end");
        near(interval.hi, high, tolerance, "upper end");
    }
}

#[test]
fn a_cut_is_the_mean_of_what_judges_expect() {
    // Sums 3.00, 2.90, 2.85: mean 2.916667, standard error .0440959, by hand.
    let judges = [vec![0.8, 0.7, 0.9, 0.6], vec![0.7, 0.7, 0.8, 0.7], vec![0.75, 0.7, 0.7, 0.7]];
    let cut = expected_cut(&judges).expect("three judges");
    near(cut.cut, 2.916_666_666_666_666_5, 1e-12, "cut");
    near(cut.share, 2.916_666_666_666_666_5 / 4.0, 1e-12, "share");
    near(cut.standard_error.expect("three"), 0.044_095_855_184_409_69, 1e-12, "its error");
    assert_eq!(expected_cut(&judges[..1]).expect("one judge").spread, Err(WhyNot::OneJudge));
    assert!(expected_cut(&[]).is_err() && expected_cut(&[vec![0.5], vec![]]).is_err());
}

#[test]
fn a_quiz_tells_its_reliability_from_thirty_common_takers_on() {
    let rows = patterns();
    // Every 35th taker: 29 of them, and 30 with one more.
    let some: Vec<Vec<f64>> = rows.iter().step_by(35).cloned().collect();
    assert_eq!(some.len(), 29);
    let few = quiz_statistics(&answers(&some));
    assert_eq!((few.common, few.alpha, few.error), (29, Err(WhyNot::TooFew(29)), Err(WhyNot::TooFew(29))));
    let more = quiz_statistics(&answers(&[some, rows[..1].to_vec()].concat()));
    assert!(more.alpha.is_ok() && more.error.is_ok());
    let all = quiz_statistics(&answers(&rows));
    near(all.mean_share.expect("taken"), 3.819 / 5.0, 1e-12, "mean share");
    near(all.times_for_enough.expect("above 0"), 9.559_451_091_561_291, 1e-11, "times as long for 0.80");
}

#[test]
fn what_is_not_defined_says_why() {
    let said =
        |rows: &[Vec<f64>], exercise: usize| rest_correlation(&answers(rows), exercise).expect_err("undefined").words();
    let class = |row: &[f64]| vec![row.to_vec(); 9];
    assert_eq!(said(&class(&[1.0]), 0), "with a single exercise there is no rest to compare it with");
    assert_eq!(alpha(&answers(&class(&[1.0]))).expect_err("one"), WhyNot::OneExercise);
    assert_eq!(said(&class(&[1.0, 0.0]), 0), "all 9 had it right: nothing tells them apart");
    assert_eq!(said(&class(&[1.0, 0.0]), 1), "none of 9 had it right: nothing tells them apart");
    assert_eq!(said(&class(&[0.5, 0.0]), 0), "all 9 have the same mark: nothing tells them apart");
    assert_eq!(
        said(&[vec![1.0, 1.0], vec![0.0, 1.0]], 0),
        "all 2 did as well on the rest: there is nothing to compare it with"
    );
    // Marks that cancel: everyone has the same total.
    assert_eq!(alpha(&answers(&[vec![1.0, 0.0], vec![0.0, 1.0]])), Err(WhyNot::SameTotals(2)));
    let nobody = Answers::new(2, vec![vec![None, Some(1.0)]]).expect("marks");
    assert_eq!(alpha(&nobody), Err(WhyNot::NoTakers));
}

#[test]
fn few_takers_get_counts_and_intervals_but_no_correlation() {
    let mut rows = vec![vec![1.0, 1.0, 0.0]; 15];
    rows.extend(vec![vec![0.0, 1.0, 1.0]; 10]);
    rows.extend(vec![vec![0.0, 0.0, 0.0]; 4]);
    let few = exercise_statistics(&answers(&rows), 0, &[]);
    assert_eq!((few.takers, few.right, few.partly, few.common), (29, 15, 0, 29));
    assert_eq!(few.tells_apart, Err(WhyNot::TooFew(29)));
    rows.push(vec![1.0, 1.0, 0.0]);
    assert!(exercise_statistics(&answers(&rows), 0, &[]).tells_apart.is_ok());
    let told = advice(&few);
    assert!(
        told.iter().any(|one| one.notice == Notice::NotSaid && one.words.contains("29 took the whole quiz")),
        "{told:?}"
    );
}

fn notices(rows: &[Vec<f64>], ways: &[Vec<WrongWay>]) -> Vec<Notice> {
    advice(&exercise_statistics(&answers(rows), 0, ways)).iter().map(|one| one.notice).collect()
}

#[test]
fn advice_names_what_presses_most() {
    let turn = |name: &str| vec![WrongWay::Turn(name.to_owned())];
    // Four of nine right, five wrong: all the same turn, or three at most.
    let rows: Vec<Vec<f64>> = (0..9).map(|taker| vec![f64::from(u8::from(taker < 4)), 1.0]).collect();
    let same: Vec<_> = (0..9).map(|taker| if taker < 4 { vec![] } else { turn("as_read") }).collect();
    assert_eq!(notices(&rows, &same)[0], Notice::SameWrongTurn);
    let words = &advice(&exercise_statistics(&answers(&rows), 0, &same))[0].words;
    assert!(words.starts_with("5 of 9 went wrong in the same way: the wrong turn “as read”."), "{words}");
    let mixed: Vec<_> =
        (0..9).map(|taker| if taker < 4 { vec![] } else { turn(if taker < 7 { "a" } else { "b" }) }).collect();
    assert!(!notices(&rows, &mixed).contains(&Notice::SameWrongTurn));
    assert_eq!(notices(&vec![vec![0.0, 1.0]; 9], &[])[0], Notice::LookAtTheKey);
    // Wilson for 9 of 9 reaches down to .70, for 30 of 30 to .89.
    assert!(!notices(&vec![vec![1.0, 1.0]; 9], &[]).contains(&Notice::TooEasy));
    assert!(notices(&vec![vec![1.0, 1.0]; 30], &[]).contains(&Notice::TooEasy));
    assert_eq!(notices(&vec![vec![0.0, 1.0]; 2], &[]), [Notice::NotSaid]);
    let hard: Vec<Vec<f64>> = (0..30).map(|taker| vec![f64::from(u8::from(taker == 0)), 1.0]).collect();
    assert!(notices(&hard, &[]).contains(&Notice::TooHard));
}

#[test]
fn advice_on_telling_apart_says_which_way_round() {
    let class = |pairs: &[(f64, f64, usize)]| -> String {
        let rows: Vec<Vec<f64>> = pairs.iter().flat_map(|(own, rest, times)| vec![vec![*own, *rest]; *times]).collect();
        advice(&exercise_statistics(&answers(&rows), 0, &[])).last().expect("something is said").words.clone()
    };
    let well = class(&[(1.0, 1.0, 18), (0.0, 0.0, 18), (1.0, 0.0, 2), (0.0, 1.0, 2)]);
    assert!(well.contains("well (0.80"), "{well}");
    let wrong_way = class(&[(1.0, 0.0, 18), (0.0, 1.0, 18), (1.0, 1.0, 2), (0.0, 0.0, 2)]);
    assert!(wrong_way.contains("the wrong way round (-0.80"), "{wrong_way}");
    let open = class(&[(1.0, 0.0, 10), (0.0, 1.0, 10), (1.0, 1.0, 10), (0.0, 0.0, 10)]);
    assert!(open.contains("is open (0.00"), "{open}");
    let hardly = class(&[(1.0, 0.0, 150), (0.0, 1.0, 150), (1.0, 1.0, 150), (0.0, 0.0, 150)]);
    assert!(hardly.contains("hardly tells"), "{hardly}");
    // 1000 takers: .11 is above nothing, and small.
    let rows = patterns();
    let words = advice(&exercise_statistics(&answers(&rows), 0, &[])).last().expect("said").words.clone();
    assert!(words.contains("a little (0.11"), "{words}");
}

#[test]
fn a_family_is_pooled_within_its_quizzes() {
    let sitting = |quiz: &str, taker: usize, mark: f64, rest: f64| Sitting {
        quiz: quiz.to_owned(),
        taker: format!("p{taker}"),
        mark,
        rest: Some(rest),
        wrong_ways: if mark < 1.0 { vec![WrongWay::Turn("as_read".to_owned())] } else { vec![] },
    };
    // Within each quiz mark and rest agree wholly; between them they run against each other.
    let mut sittings: Vec<Sitting> = (0..10).map(|n| sitting("w1", n, 1.0, 0.2)).collect();
    sittings.extend((0..10).map(|n| sitting("w2", n, f64::from(u8::from(n < 5)), if n < 5 { 0.9 } else { 0.8 })));
    let pooled = family_statistics(&sittings);
    assert_eq!((pooled.quizzes, pooled.people, pooled.sittings, pooled.right), (2, 10, 20, 15));
    assert_eq!(pooled.tells_apart, Err(WhyNot::TooFew(20)));
    assert_eq!(pooled.commonest.as_ref().map(|one| one.takers), Some(5));
    near(pooled.difficulty.expect("taken"), 0.75, 1e-12, "difficulty");
    sittings.extend((0..10).map(|n| sitting("w3", n, f64::from(u8::from(n < 5)), if n < 5 { 0.5 } else { 0.4 })));
    near(family_statistics(&sittings).tells_apart.expect("30 sittings"), 1.0, 1e-12, "within quizzes");
    assert_eq!(family_statistics(&[]).tells_apart, Err(WhyNot::NoTakers));
    assert_eq!(family_statistics(&sittings[..10]).tells_apart, Err(WhyNot::AllRight(10)));
}
