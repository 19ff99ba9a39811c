use super::{class, day, result};
use two_marks::class::{
    Change, CodeSeen, Order, Queue, Rule, Slip, Step, Task, Verdict, changes, class_csv,
    class_trials_csv, code_seen, new_session, preview, rows, test_days,
};
use two_marks::history::{ClassResult, Id};
use two_marks::measure::{Reach, Trial};
use two_marks::quantity::{Division, Reading};
use two_marks::share::csv::{Decimal, read_table};

fn read(count: i32) -> Reading {
    Reading { count, division: Division::CmHalf }
}

/// Takes a reading as a station does.
fn take(results: &mut Vec<ClassResult>, step: Step) {
    let Step { number, task } = step;
    if !results.iter().any(|one| one.number == number) {
        let id = Id::from_bytes([number; 16]);
        let session = new_session(&class().setup);
        results.push(ClassResult::new(id, class().id, day(1), number, session));
    }
    let one = results.iter_mut().find(|one| one.number == number).unwrap();
    match (task, &mut one.session.reach) {
        (Task::Reach(_), Reach::Measured(readings)) => readings.push(read(2_000)),
        (Task::Trial(place), _) => {
            one.session
                .trials
                .push(Trial::FloorMark(read(2_300 + 5 * i32::try_from(place).unwrap())));
        }
        _ => panic!("no reach to take"),
    }
}

fn play(queue: &Queue, results: &mut Vec<ClassResult>) -> Vec<Step> {
    let mut steps = Vec::new();
    while let Some(step) = queue.next(&class(), results) {
        take(results, step);
        steps.push(step);
        assert!(steps.len() < 1_000, "the queue does not end");
    }
    steps
}

#[test]
fn round_by_round_everyone_reaches_and_then_everyone_jumps() {
    let mut results = Vec::new();
    let steps = play(&Queue::default(), &mut results);
    assert_eq!(steps.len(), 30 * 4);
    let expected: Vec<Step> = [Task::Reach(1), Task::Trial(1), Task::Trial(2), Task::Trial(3)]
        .into_iter()
        .flat_map(|task| (1..=30).map(move |number| Step { number, task }))
        .collect();
    assert_eq!(steps, expected);
}

#[test]
fn pupil_by_pupil_each_finishes_first() {
    let queue = Queue { order: Order::ByPupil, ..Queue::default() };
    let steps = play(&queue, &mut Vec::new());
    let first: Vec<Step> = steps.iter().take(4).copied().collect();
    assert!(first.iter().all(|step| step.number == 1));
    assert_eq!(steps.len(), 120);
}

#[test]
fn later_comes_last_and_another_role_never() {
    let mut queue = Queue::default();
    queue.put_off(1);
    queue.put_off(2);
    queue.put_off(1);
    queue.stop(30);
    let mut results = vec![ClassResult {
        helps: true,
        ..ClassResult::new(
            Id::from_bytes([3; 16]),
            class().id,
            day(1),
            3,
            new_session(&class().setup),
        )
    }];
    let steps = play(&queue, &mut results);
    let round: Vec<u8> = steps.iter().take(28).map(|step| step.number).collect();
    assert_eq!(round, (4..=29).chain([2, 1]).collect::<Vec<u8>>());
    assert!(!steps.iter().any(|step| step.number == 3 || step.number == 30));
}

#[test]
fn a_number_that_is_called_comes_at_once() {
    let mut queue = Queue::default();
    queue.stop(20);
    queue.call(20);
    assert_eq!(queue.next(&class(), &[]), Some(Step { number: 20, task: Task::Reach(1) }));
    queue.call(99);
    assert_eq!(queue.next(&class(), &[]), Some(Step { number: 1, task: Task::Reach(1) }));
}

fn slip_text(one: &ClassResult) -> String {
    Slip::of(one).write().unwrap()
}

#[test]
fn slips_are_looked_at_before_they_are_taken_over() {
    let stored = [result(1, day(1), &[300, 310, 305])];
    let again = result(1, day(1), &[300, 310, 320]);
    let mut other_device = result(1, day(1), &[250, 255, 260]);
    other_device.device_tag = 9;
    let mut stranger = result(2, day(1), &[300]);
    stranger.class = two_marks::class::class_id([8; 16]);
    let text = [
        slip_text(&stored[0]),
        slip_text(&again),
        slip_text(&other_device),
        slip_text(&result(2, day(1), &[300, 310, 305])),
        slip_text(&result(2, day(1), &[300, 310, 305])),
        slip_text(&result(31, day(1), &[300])),
        slip_text(&stranger),
    ]
    .join("\n\n");
    let seen = preview(&class(), &stored, &text, day(1));
    let verdicts: Vec<Verdict> = seen.iter().map(|one| one.verdict).collect();
    use Verdict::{Double, New, NoSuchNumber, OtherDevice, Retake, WrongClass};
    let expected = [Double, Retake, OtherDevice, New, Double, NoSuchNumber, WrongClass];
    assert_eq!(verdicts, expected);

    let mut next = 50;
    let mut id = || {
        next += 1;
        Some(Id::from_bytes([next; 16]))
    };
    let left_out = changes(&class(), &stored, &seen, Rule::LeaveOut, 5, &mut id);
    assert!(matches!(left_out.as_slice(), [Change::Add(one)] if one.number == 2));
    let replaced = changes(&class(), &stored, &seen, Rule::Replace, 5, &mut id);
    let [Change::Edit(edited), Change::Add(_)] = replaced.as_slice() else {
        panic!("{replaced:?}");
    };
    assert_eq!((edited.id, edited.device_tag), (stored[0].id, 9), "the last one stands");
    let both = changes(&class(), &stored, &seen, Rule::KeepBoth, 5, &mut id);
    assert_eq!(both.iter().filter(|change| matches!(change, Change::Add(_))).count(), 3);
}

#[test]
fn the_table_is_by_number_and_the_newest_counts() {
    let mut newer = result(2, day(1), &[200, 205, 210]);
    newer.id = Id::from_bytes([99; 16]);
    newer.stamp.edited_utc_ms = 10;
    let mut tired = result(4, day(1), &[500]);
    tired.tired = true;
    let results = [
        result(3, day(1), &[300]),
        result(2, day(1), &[400]),
        newer,
        tired,
        result(1, day(2), &[1]),
    ];
    let rows = rows(&class(), &results, day(1));
    let numbers: Vec<u8> = rows.iter().map(|row| row.number).collect();
    assert_eq!(numbers, (1..=30).collect::<Vec<u8>>());
    assert_eq!(rows[1].best.unwrap().0, two_marks::quantity::Length::from_mm(210));
    assert_eq!(rows[1].earlier.len(), 1);
    assert!(!rows[1].is_flagged() && rows[2].is_flagged() && rows[3].is_tired);
    assert_eq!(rows[0].result, None, "that was another day");
    assert_eq!(test_days(&results), [day(2), day(1)]);
}

#[test]
fn files_hold_every_reading_and_no_formula() {
    let mut formula = class();
    formula.setup.label = "=1+1".to_owned();
    let mut helper = result(2, day(1), &[]);
    helper.helps = true;
    let results = [result(1, day(1), &[300, 310, 305]), helper];
    let pupils = class_csv(&formula, &results, Decimal::Point, "not for grading");
    let table = read_table(&pupils).unwrap();
    assert_eq!(table.rows.len(), 3);
    assert_eq!(
        table.rows[1],
        [
            "'=1+1",
            "2026-03-01",
            "1",
            "2000",
            "1",
            "3",
            "0",
            "310",
            "305",
            "no",
            "no",
            "no",
            "not for grading"
        ]
    );
    assert_eq!(table.rows[2][11], "yes");
    let trials = class_trials_csv(&formula, &results, Decimal::Comma, "not for grading");
    let table = read_table(&trials).unwrap();
    assert_eq!(table.rows.len(), 4);
    assert_eq!(
        table.rows[2],
        ["'=1+1", "2026-03-01", "1", "2", "counted", "", "2310", "310", "not for grading"]
    );
}

#[test]
fn the_camera_adds_each_slip_once_however_it_is_written() {
    let code = |number| Slip::of(&result(number, day(1), &[300])).write().unwrap();
    let link = |number| format!("https://school.example/jump/#/slip/{}", code(number));
    let seen = |text: &str, code: &str| code_seen(text, code, day(1));
    let one = code(1);
    assert_eq!(seen("", &link(1)), CodeSeen::New(one.clone()));
    assert_eq!(seen(&one, &link(1)), CodeSeen::Known);
    // Typed in groups and small letters, it is the same slip.
    let typed = two_marks::class::code::grouped(&one).to_lowercase();
    assert_eq!(seen(&format!("mine: {typed}"), &link(1)), CodeSeen::Known);
    // Two slips in one picture: the new one alone is added, after what was typed.
    let both = format!("{}\n{}", link(1), link(2));
    assert_eq!(seen(&format!("{one}\n"), &both), CodeSeen::New(format!("{one}\n{}", code(2))));
    assert_eq!(seen(&one, "https://school.example/menu"), CodeSeen::NoSlip);
    // A slip that cannot be read is shown as such, and once.
    let last = if one.ends_with('2') { '3' } else { '2' };
    let wrong = format!("{}{last}", &one[..one.len() - 1]);
    assert_eq!(seen("", &wrong), CodeSeen::New(wrong.clone()));
    assert_eq!(seen(&wrong, &wrong), CodeSeen::Known);
    let CodeSeen::New(all) = seen(&one, &link(3)) else { panic!("not added") };
    assert_eq!(preview(&class(), &[], &all, day(1)).len(), 2);
}
