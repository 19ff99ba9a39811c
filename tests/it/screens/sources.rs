//! What the page on sources says.

use std::fmt::Write as _;

use expect_test::expect;
use two_marks::norms::{ALL_SOURCES, APPROACH_GAINS, LEFT_OUT, TestKind, coverage_rows};
use two_marks::quantity::{Sex, Unit};

use super::{check, words};

#[test]
fn the_coverage_table() {
    let words = words();
    let mut text = String::new();
    for (kind, sex) in [
        (TestKind::Wall, Sex::Female),
        (TestKind::Wall, Sex::Male),
        (TestKind::FlightTime, Sex::Female),
    ] {
        writeln!(text, "{kind:?}, {sex:?}").unwrap();
        for row in coverage_rows(kind, sex) {
            let tables: Vec<String> = row.listings.iter().map(|l| words.listing(l)).collect();
            let tables =
                if tables.is_empty() { words.bands_cover_none() } else { tables.join("; ") };
            writeln!(text, "  {}: {tables}", words.coverage_ages(row.ages)).unwrap();
        }
    }
    check(
        &text,
        expect![[r#"
            Wall, Female
              up to 5: no table
              6–9: Canada, 6–19 (average)
              10–14: Indonesia, 10–19 (strips); Canada, 6–19 (average)
              15: Indonesia, 10–19 (strips); UK, 15–16 (strips); Canada, 6–19 (average)
              16: Indonesia, 10–19 (strips); UK, 16–19 (strips); UK, 15–16 (strips); Canada, 6–19 (average)
              17–19: Indonesia, 10–19 (strips); UK, 16–19 (strips); Canada, 6–19 (average)
              20: Australia, 20–49 (strips); our own estimate, 20–64 (three words)
              21–30: active students, USA, 21–30 (places in 100); our own estimate, 20–64 (three words); Australia, 20–49 (strips)
              31–39: our own estimate, 20–64 (three words); Australia, 20–49 (strips)
              40–49: our own estimate, 20–64 (three words); hospital, South Korea, 40–49 (average); Australia, 20–49 (strips)
              50–64: our own estimate, 20–64 (three words)
              65 and over: no table
            Wall, Male
              up to 5: no table
              6–9: Canada, 6–19 (average)
              10–12: Indonesia, 10–19 (strips); Canada, 6–19 (average)
              13–14: Indonesia, 10–19 (strips); USA, 13–14 (places in 100); Canada, 6–19 (average)
              15: Indonesia, 10–19 (strips); UK, 15–16 (strips); Canada, 6–19 (average)
              16: Indonesia, 10–19 (strips); UK, 16–19 (strips); UK, 15–16 (strips); Canada, 6–19 (average)
              17–19: Indonesia, 10–19 (strips); UK, 16–19 (strips); Canada, 6–19 (average)
              20: USA, 20–29 (places in 100); Australia, 20–49 (strips); our own estimate, 20–64 (three words)
              21–29: USA, 20–29 (places in 100); active students, USA, 21–30 (places in 100); our own estimate, 20–64 (three words); Australia, 20–49 (strips)
              30: active students, USA, 21–30 (places in 100); our own estimate, 20–64 (three words); Australia, 20–49 (strips)
              31–39: our own estimate, 20–64 (three words); Australia, 20–49 (strips)
              40–49: our own estimate, 20–64 (three words); hospital, South Korea, 40–49 (average); Australia, 20–49 (strips)
              50–64: our own estimate, 20–64 (three words)
              65 and over: no table
            FlightTime, Female
              up to 12: no table
              13–64: South Korea, 13–64 (places in 100)
              65 and over: no table
        "#]],
    );
}

#[test]
fn what_is_said_of_every_source() {
    let words = words();
    let mut text = String::new();
    for source in ALL_SOURCES {
        writeln!(text, "{}", words.source_heading(source)).unwrap();
        for (what, how) in words.source_facts(source) {
            writeln!(text, "  {what}: {how}").unwrap();
        }
        for caution in words.cautions(source) {
            writeln!(text, "  - {caution}").unwrap();
        }
    }
    check(
        &text,
        expect![[r#"
            Indonesia, 10–19
              Who: School pupils in Indonesia. The limits are those of the national school fitness test.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: A mark on a wall or a board, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: Three jumps each.
              Which jump counts: The best jump. The page describes the test in this way.
              How close to your test: The same kind of test: marks on a wall.
              What it can say: Strips with printed limits.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - It is not known who stands behind these limits.
              - The strips are the limits of a test. They do not say how many people are in each.
            UK, 16–19
              Who: Young people of 16 to 19 in the UK. A school book calls these national norms.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: A mark on a wall or a board, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: Three jumps each.
              Which jump counts: The best jump, or the mean of the jumps. The pages that carry the table do not agree.
              How close to your test: The same kind of test: marks on a wall.
              What it can say: Strips with printed limits.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - It is not known who stands behind these limits.
              - The strips are the limits of a test. They do not say how many people are in each.
            UK, 15–16
              Who: School pupils of 15 and 16 in the UK, by a school book.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: A mark on a wall or a board, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: Three jumps each.
              Which jump counts: The best jump, or the mean of the jumps. The pages that carry the table do not agree.
              How close to your test: The same kind of test: marks on a wall.
              What it can say: Strips with printed limits.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - It is not known who stands behind these limits.
              - The strips are the limits of a test. They do not say how many people are in each.
            Australia, 20–49
              Who: Adults over 20 in Australia, by a school book.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: A mark on a wall or a board, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: Three jumps each.
              Which jump counts: The best jump, or the mean of the jumps. The pages that carry the table do not agree.
              How close to your test: The same kind of test: marks on a wall.
              What it can say: Strips with printed limits.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - It is not known who stands behind these limits.
              - One table for all adults, young or old.
              - The strips are the limits of a test. They do not say how many people are in each.
            USA, 13–14
              Who: Boys of 13 and 14 in the USA, by a handbook.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: Probably a mark on a wall. The table itself does not say.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: The same test or one like it. The page leaves it open.
              What it can say: Places in 100, as printed.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - It is not known how the test was done, or who was tested.
            USA, 20–29
              Who: Men of 20 to 29 in the USA, tested at a university.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: A mark on a wall or a board, less the standing reach.
              Arms: The arms swing.
              Jumps: Three jumps each.
              Which jump counts: The best jump. The page describes the test in this way.
              How close to your test: The same kind of test: marks on a wall.
              What it can say: Places in 100, as printed.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - It is not known who stands behind these limits.
              - The printed figures look smoothed.
            active students, USA, 21–30
              Who: Medical students in the USA with their wives and husbands.
              How many: 724 results stand behind it.
              When: The years of measuring are not stated.
              How: Slats swept aside by the hand, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Close to your test, but not the same.
              What it can say: A mean and a spread. Places in 100 come from a bell curve.
              What we read: We read the summary of the source, not its tables.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - These people were more active than most.
              - Some groups are small.
            Canada, 6–19
              Who: Children and young people in Canada, picked from homes in the whole country.
              How many: How many people was not read.
              When: Measured from 2016 to 2017.
              How: A plate on the floor that feels the push, and a formula.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Not the same test: read it with care.
              What it can say: One average: above, near or below.
              What we read: We read the table in the source itself.
              Right to use: Open licence. The source must be named.
              - It was measured with other gear, which can read higher or lower.
            hospital, South Korea, 40–49
              Who: Adults in their forties, by the scale of a hospital in South Korea.
              How many: It is not known how many people, or who.
              When: The years of measuring are not stated.
              How: The page does not say how it was measured.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Not the same test: read it with care.
              What it can say: One average: above, near or below.
              What we read: We read pages that quote the source, not the source.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - How it was measured is not stated.
              - It is not known who stands behind these limits.
            South Korea, 13–64
              Who: People who came to public fitness test centres in South Korea.
              How many: 279025 results stand behind it.
              When: Measured from 2024 to 2026.
              How: Time in the air. How it was timed was not read.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Not the same test: read it with care.
              What it can say: Places in 100, as printed.
              What we read: We read pages that quote the source, not the source.
              Right to use: Open data. Its licence was not read.
              - Time in the air reads lower than a wall, by how it is defined. It is about 10 cm from table to table (our own reckoning).
              - These people chose to be tested.
            our own estimate, 20–64
              Who: People who came to public fitness test centres in South Korea.
              How many: 279025 results stand behind it.
              When: Measured from 2024 to 2026.
              How: Time in the air. How it was timed was not read.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Not the same test: read it with care.
              What it can say: Our own reckoning of an average: above, near or below.
              What we read: We read pages that quote the source, not the source.
              Right to use: Open data. Its licence was not read.
              - This is our own estimate. It can be 5 cm off. Past 50 nothing tests it.
              - It comes from time in the air, which reads lower than a wall. We added 10 cm.
              - These people chose to be tested.
            police recruits, USA
              Who: Recruits of one law-enforcement agency in the USA. They are fitter than most.
              How many: 833 results stand behind it.
              When: The years of measuring are not stated.
              How: Slats swept aside by the hand, less the standing reach.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Close to your test, but not the same.
              What it can say: A mean and a spread. Places in 100 come from a bell curve.
              What we read: We read the summary of the source, not its tables.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - These people train a lot. It is no goal for a child.
            college football, USA
              Who: College players of American football.
              How many: 981 results stand behind it.
              When: The years of measuring are not stated.
              How: The page does not say how it was measured.
              Arms: The page does not say what the arms did.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Close to your test, but not the same.
              What it can say: A mean and a spread. Places in 100 come from a bell curve.
              What we read: We read the summary of the source, not its tables.
              Right to use: No licence was seen. Single figures are quoted, with their source.
              - These people train a lot. It is no goal for a child.
              - How it was measured is not stated.
            football draft, USA
              Who: Men at the draft tests of American football.
              How many: 5932 results stand behind it.
              When: Measured from 2000 to 2022.
              How: Slats swept aside by the hand, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Close to your test, but not the same.
              What it can say: Places in 100, as printed.
              What we read: We worked it out from an open data file.
              Right to use: Open data. Its licence was not read.
              - These people train a lot. It is no goal for a child.
            basketball draft, USA
              Who: Men at the draft tests of basketball in the USA.
              How many: 1187 results stand behind it.
              When: Measured from 2000 to 2019.
              How: Slats swept aside by the hand, less the standing reach.
              Arms: The arms swing, as is usual. The page does not say so.
              Jumps: The page does not say how many jumps.
              Which jump counts: The best jump. The page does not say. We take the best, as handbooks do.
              How close to your test: Close to your test, but not the same.
              What it can say: Places in 100, as printed.
              What we read: We worked it out from an open data file.
              Right to use: Open data. Its licence was not read.
              - These people train a lot. It is no goal for a child.
        "#]],
    );
}

#[test]
fn every_source_has_a_citation_and_every_table_left_out_a_reason() {
    for source in ALL_SOURCES {
        let cited = words().citation(&source.citation);
        assert!(cited.contains(source.citation.work) && !cited.contains(".."), "{cited}");
        if let Some(year) = source.citation.year {
            assert!(cited.contains(&format!("({year})")), "{cited}");
        }
    }
    for table in &LEFT_OUT {
        let said = words().left_out(table);
        let why = said.strip_prefix(table.citation).unwrap();
        assert!(why.len() > 10 && why.ends_with('.'), "{said}");
    }
}

#[test]
fn what_a_run_up_adds() {
    let words = words();
    let mut text = String::new();
    for gain in &APPROACH_GAINS {
        writeln!(text, "{}", words.approach_gain(gain, Unit::Centimetre)).unwrap();
        writeln!(text, "- {}", words.approach_source(gain).unwrap_or_default()).unwrap();
    }
    check(
        &text,
        expect![[r#"
            1187 men at the draft tests of basketball gained 13.2~cm, give or take 4.8~cm. Most gained 7.6~cm to 19.1~cm.
            - Open data file; paired differences computed for this project (2019). Results of the professional basketball draft combine 2000-2019.
            10 women who play college volleyball gained 5.0~cm on average.
            - Hsieh C, Christiansen CL (2010). The effect of approach on spike jump height for female volleyball players. Int J Sports Sci Coach 2010;5(3):373-380, DOI 10.1260/1747-9541.5.3.373.
            Coaches say 15.2~cm to 30.5~cm for trained jumpers. This is common practice, with no source.
            - 
        "#]],
    );
}
