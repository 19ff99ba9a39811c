//! Every cell in the code against the files in `docs/norms/`, which hold the tables as read.

use super::*;
use std::path::Path;
use two_marks::norms::tables::*;
use two_marks::norms::{ALL_SOURCES, Attribution, LEFT_OUT, Layer, Sample};
use two_marks::quantity::Sex::{Female, Male};

/// One row of a file.
struct Row {
    sex: Sex,
    ages: (Option<u8>, Option<u8>),
    n: Option<u32>,
    statistic: String,
    value_cm: Option<f64>,
    original: String,
    high_cm: Option<f64>,
}

/// All rows of one source that are of one sex (a table for both sexes in one is not used).
fn rows(file: &str, source: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/norms").join(file);
    let mut reader = csv::Reader::from_path(path).expect("a file of the tables");
    let records = reader.records().map(|record| record.expect("a row"));
    let rows: Vec<Row> = records
        .filter(|record| &record[0] == source)
        .filter_map(|record| {
            let sex = match &record[2] {
                "F" => Female,
                "M" => Male,
                _ => return None,
            };
            Some(Row {
                sex,
                ages: (record[3].parse().ok(), record[4].parse().ok()),
                n: record[5].parse().ok(),
                statistic: record[6].to_owned(),
                value_cm: record[7].parse().ok(),
                original: record[8].to_owned(),
                high_cm: record[11].parse().ok(),
            })
        })
        .collect();
    assert!(!rows.is_empty(), "{file} holds {source}");
    rows
}

#[track_caller]
fn same_cm(length: Length, cm: f64, step: f64) {
    assert!((length.as_cm() - cm).abs() <= step / 2.0 + 1e-9, "{} is not {cm}", length.as_cm());
}

fn cell_of(source: &'static Source, row: &Row) -> &'static Cell {
    let years = row.ages.0.unwrap_or(18);
    let found = cell(source, row.sex, years);
    if let (Some(from), Some(to)) = row.ages {
        assert_eq!((found.ages.from, found.ages.to), (from, to));
    }
    found
}

fn check_percentiles(source: &'static Source, file: &str, suffix: &str, within: f64) -> usize {
    let mut seen = 0;
    for row in rows(file, source.id) {
        let Some(percent) = row.statistic.strip_prefix('p') else { continue };
        let Some(percent) = percent.strip_suffix(suffix) else { continue };
        let Ok(percent) = percent.parse() else { continue };
        let found = cell_of(source, &row);
        assert_eq!(found.n, row.n);
        let cm = row.value_cm.expect("a score");
        let printed = at_percent(found, percent);
        assert!((printed - cm).abs() < within, "{}: {printed} is not {cm}", source.id);
        seen += 1;
    }
    let cells: usize = source
        .cells
        .iter()
        .map(|cell| match cell.norm {
            Norm::Percentiles { percents, .. } => percents.len(),
            _ => 0,
        })
        .sum();
    assert_eq!(seen, cells, "{}: every printed percentile, and no other", source.id);
    seen
}

#[test]
fn percentile_tables() {
    // The files round inches to 0.01 cm; the survey's heights take g = 9.81 for 9.80665.
    let files = [
        (&USA_HOFFMAN_2006, "usa_hoffman_boys_13_14.csv", "", 0.0051, 9),
        (&USA_TEXAS_M2029, "usa_texas_men_20_29.csv", "", 1e-9, 9),
        (&KOR_NFA_2024_2026, "kor_nfa_2024_2026_flight.csv", "", 0.025, 390),
        (&USA_FOOTBALL_COMBINE, "usa_football_combine.csv", "", 0.0051, 7),
        (&USA_BASKETBALL_COMBINE, "usa_basketball_combine.csv", " (standing)", 0.0051, 7),
    ];
    for (source, file, suffix, within, count) in files {
        assert_eq!(check_percentiles(source, file, suffix, within), count, "{file}");
    }
}

#[test]
fn korean_flight_times_to_the_tenth_of_a_millisecond() {
    // Undo g T²/8: the printed time must come back, so a mistyped digit cannot hide in rounding.
    let mut seen = 0;
    for row in rows("kor_nfa_2024_2026_flight.csv", "kor_nfa_2024_2026") {
        let seconds: f64 = row.original.parse().unwrap();
        let percent = row.statistic.strip_prefix('p').unwrap().parse().unwrap();
        let cm = at_percent(cell_of(&KOR_NFA_2024_2026, &row), percent);
        let back = (8.0 * cm / 100.0 / 9.80665).sqrt();
        assert!((back - seconds).abs() < 5e-6, "{back} is not {seconds}");
        seen += 1;
    }
    assert_eq!(seen, 390);
    let total: u32 = KOR_NFA_2024_2026.cells.iter().filter_map(|cell| cell.n).sum();
    assert_eq!(Sample::Known(total), KOR_NFA_2024_2026.sample, "the groups add up");
}

fn check_means(source: &'static Source, file: &str, step: f64) -> usize {
    let mut seen = 0;
    for row in rows(file, source.id) {
        let (mean, sd) = mean_and_sd(cell_of(source, &row));
        let printed = row.value_cm.expect("a figure");
        match row.statistic.as_str() {
            "mean" => same_cm(Length::from_cm(mean), printed, step),
            "sd" => same_cm(Length::from_cm(sd), printed, step),
            other => panic!("{other}"),
        }
        assert_eq!(cell_of(source, &row).n, row.n);
        seen += 1;
    }
    assert_eq!(seen, 2 * source.cells.len());
    seen
}

#[test]
fn means_and_standard_deviations() {
    // Patterson is printed in inches; the file rounds its centimetres to 0.01.
    assert_eq!(check_means(&USA_PATTERSON_2004, "usa_patterson_2004.csv", 0.01), 8);
    assert_eq!(check_means(&USA_LOCKIE_2024, "usa_lockie_2024.csv", 0.0), 4);
    assert_eq!(check_means(&USA_FRY_1991, "usa_college_athletes.csv", 0.0), 2);
}

#[test]
fn average_lines() {
    for row in rows("can_chms_youth_2016.csv", "can_chms_youth_2016") {
        let Norm::Average { average, interval } = cell_of(&CAN_CHMS_YOUTH_2016, &row).norm else {
            panic!("an average")
        };
        let (low, high) = interval.expect("a printed interval");
        let here = match row.statistic.as_str() {
            "mean" => average,
            "mean_ci95_low" => low,
            "mean_ci95_high" => high,
            other => panic!("{other}"),
        };
        same_cm(here, row.value_cm.unwrap(), 0.0);
    }
    for row in rows("kor_hospital_40s.csv", "kor_hospital_40s") {
        let here = average_cm(cell_of(&KOR_HOSPITAL_40S, &row));
        assert!((here - row.value_cm.unwrap()).abs() < 1e-9);
    }
}

#[test]
fn bands_hold_their_printed_limits() {
    let files = [
        (&IDN_TKJI_2010, "idn_tkji_bands.csv", 30),
        (&GBR_DAVIS_2000, "gbr_davis_2000_bands.csv", 10),
        (&GBR_BEASHEL_1997, "gbr_beashel_1997_bands.csv", 10),
        (&AUS_ARKINSTALL_2010, "aus_arkinstall_2010_bands.csv", 10),
    ];
    for (source, file, count) in files {
        let rows = rows(file, source.id);
        assert_eq!(rows.len(), count);
        // Rows of one sex and age stand from the highest band down.
        for (at, row) in rows.iter().enumerate() {
            let years = row.ages.0.unwrap().max(source.cells[0].ages.from);
            let Norm::Bands { bands, .. } = cell(source, row.sex, years).norm else {
                panic!("bands")
            };
            let band = bands[4 - at % 5];
            let (from, to) = limits(&row.original);
            assert_eq!((band.from_cm, band.to_cm), (from, to), "{} {}", source.id, row.original);
            let numbers = (row.value_cm, row.high_cm);
            assert!(numbers.0.is_some() || numbers.1.is_some(), "{numbers:?}");
        }
    }
}

/// Whole-centimetre limits of a printed band: "38-45", "46 and over", "23 and under", ">65", "<30".
fn limits(printed: &str) -> (Option<u8>, Option<u8>) {
    let number = |text: &str| text.trim().parse::<u8>().expect("a whole centimetre");
    if let Some(over) = printed.strip_prefix('>') {
        (Some(number(over) + 1), None)
    } else if let Some(under) = printed.strip_prefix('<') {
        (None, Some(number(under) - 1))
    } else if let Some(from) = printed.strip_suffix("and over") {
        (Some(number(from)), None)
    } else if let Some(to) = printed.strip_suffix("and under") {
        (None, Some(number(to)))
    } else {
        let (from, to) = printed.split_once('-').expect("two limits");
        (Some(number(from)), Some(number(to)))
    }
}

#[test]
fn our_estimate_is_the_korean_median_plus_ten() {
    // The reference prints these for 13 to 64 in whole centimetres, halves up.
    let ages = [13, 14, 15, 16, 17, 18, 19, 25, 30, 35, 40, 45, 50, 55, 60];
    let printed = [
        (Female, [34, 34, 34, 34, 35, 35, 35, 35, 34, 33, 32, 31, 30, 29, 27]),
        (Male, [41, 46, 48, 49, 51, 52, 51, 49, 48, 47, 46, 44, 42, 39, 37]),
    ];
    for (sex, whole_cm) in printed {
        for (years, expected) in ages.into_iter().zip(whole_cm) {
            let median = Length::from_cm(at_percent(cell(&KOR_NFA_2024_2026, sex, years), 50));
            let estimate = (median + WALL_OVER_FLIGHT).steps_of(Length::from_mm(10));
            assert_eq!(estimate, expected, "{sex:?} {years}");
            // Used from 20 on; the group 19 to 24 is entered at 20.
            let used_from = years.max(20);
            let shown = ESTIMATE_FROM_FLIGHT
                .cells
                .iter()
                .find(|cell| cell.sex == sex && cell.ages.contains(used_from));
            if years >= 19 {
                let Norm::Average { average, .. } = shown.unwrap().norm else { panic!("one") };
                assert_eq!(average, Length::from_mm(expected * 10), "{sex:?} {years}");
            }
        }
    }
    assert!(ESTIMATE_FROM_FLIGHT.cells.iter().all(|cell| cell.ages.from >= 20));
}

#[test]
fn every_source_names_itself_its_makers_and_its_people() {
    for source in ALL_SOURCES {
        assert!(!source.citation.authors.is_empty(), "{}", source.id);
        assert!(!source.citation.work.is_empty() && !source.citation.read_at.is_empty());
        assert!(
            source.attribution != Attribution::Named("") && !source.cautions.is_empty(),
            "{}",
            source.id
        );
        let one_layer = source.cells.iter().all(|cell| {
            matches!(
                (source.layer, cell.norm),
                (Layer::Percentiles, Norm::Percentiles { .. })
                    | (Layer::MeanAndSd, Norm::MeanAndSd { .. })
                    | (Layer::Bands, Norm::Bands { .. })
                    | (Layer::AverageLine | Layer::OwnEstimate, Norm::Average { .. })
            )
        });
        assert!(one_layer, "{}", source.id);
    }
}

#[test]
fn every_file_belongs_to_a_table_and_no_table_stands_twice() {
    let mut ids: Vec<&str> = ALL_SOURCES.iter().map(|source| source.id).collect();
    ids.extend(LEFT_OUT.iter().map(|left_out| left_out.id));
    let known = ids.clone();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), known.len(), "used and left out do not meet, and no id repeats");
    // Within a file of rows from several sources, short names extend the ones listed; the volleyball
    // women stand beside the gains of a run-up alone.
    let known_row = |id: &str| {
        let of_a_table = known.iter().any(|listed| id.starts_with(listed));
        of_a_table
            || id.starts_with("jpn_nat_1976")
            || id.starts_with("jpn_fks_197")
            || id == "usa_hsieh_2010"
    };
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/norms");
    let readme = std::fs::read_to_string(folder.join("README.md")).unwrap();
    let mut files = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "csv") {
            continue;
        }
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        assert!(readme.contains(&name), "{name} is cited in the README");
        for row in csv::Reader::from_path(&path).unwrap().records() {
            let row = row.unwrap();
            assert!(known_row(&row[0]), "{name}: {}", &row[0]);
        }
        files += 1;
    }
    assert!(files >= 14, "{files}");
}
