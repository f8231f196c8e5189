//! Every worked case, and that the table is one.

use std::collections::BTreeSet;

use hissward::finding::{About, Findings, Reader, text_of};
use hissward::pipeline::engine;
use hissward::words::Words;

use crate::case::{Case, Table};

/// What is wrong with what is said of a case.
fn faults(case: &Case) -> Vec<String> {
    let engine = engine(&case.record(), &case.rankings()).expect("readings that are taken");
    let findings = Findings::of(&engine).expect("findings");
    let mut faults = Vec::new();
    for row in &case.cylinder {
        let found = findings.finding_of(row.number).expect("a finding for each cylinder");
        let first = found.next.first().map_or("none", String::as_str);
        let got = (found.code.as_str(), found.weight.name(), first);
        let wanted = (row.finding.as_str(), row.weight.as_str(), row.first.as_str());
        if got != wanted {
            faults.push(format!("{}, cylinder {}: {got:?}, not {wanted:?}", case.name, row.number));
        }
        if let Some(step) = row.no_steps.iter().find(|step| found.next.contains(step)) {
            faults.push(format!("{}, cylinder {}: {step} is not to be done here", case.name, row.number));
        }
    }
    let whole: BTreeSet<&str> = findings.engine.iter().map(|finding| finding.code.as_str()).collect();
    faults.extend(
        case.engine
            .iter()
            .filter(|code| !whole.contains(code.as_str()))
            .map(|code| format!("{}: {code} is not found; there is {whole:?}", case.name)),
    );
    faults.extend(
        case.not_engine
            .iter()
            .filter(|code| whole.contains(code.as_str()))
            .map(|code| format!("{}: {code} is found", case.name)),
    );
    let words = Words::of("en").expect("English");
    let all = findings.engine.iter().chain(&findings.cylinders);
    let texts =
        all.flat_map(|finding| [Reader::Technician, Reader::Customer].map(|reader| text_of(finding, reader, &words)));
    let said: Vec<String> = texts
        .flat_map(|text| std::iter::once(text.headline).chain(text.parts.into_iter().flat_map(|(_, said)| said)))
        .collect();
    let said = said.join("\n").replace('\u{a0}', " ");
    faults.extend(
        case.says
            .iter()
            .filter(|text| !said.contains(*text))
            .map(|text| format!("{}: '{text}' is not said in:\n{said}", case.name)),
    );
    faults.extend(
        case.never
            .iter()
            .filter(|text| said.contains(*text))
            .map(|text| format!("{}: '{text}' is said in:\n{said}", case.name)),
    );
    let due = findings.in_order_of_repair();
    let cylinders: Vec<u32> = due
        .iter()
        .filter_map(|finding| match finding.about {
            About::Cylinder(cylinder) => Some(cylinder),
            About::Engine(_) => None,
        })
        .collect();
    if !case.order_of_work.is_empty() && cylinders != case.order_of_work {
        faults.push(format!("{}: taken up in the order {cylinders:?}", case.name));
    }
    faults
}

#[test]
fn what_a_good_technician_says() {
    let table = Table::read();
    let faults: Vec<String> = table.case.iter().flat_map(faults).collect();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn the_table_is_one() {
    let table = Table::read();
    assert!(table.case.len() >= 40, "{} cases", table.case.len());
    let names: BTreeSet<&str> = table.case.iter().map(|case| case.name.as_str()).collect();
    assert_eq!(names.len(), table.case.len(), "each case has a name of its own");
    for case in &table.case {
        let sources = [
            "common practice, no source",
            "AC 43.13-1B",
            "NAVEDTRA 14264A",
            "calc",
            "FAA safety tip",
            "geometry",
            "IEC 60534-8-3",
        ];
        assert!(
            sources.iter().any(|source| case.source.contains(source)),
            "{}: '{}' names no source",
            case.name,
            case.source
        );
    }
}

#[test]
fn a_wrong_expectation_is_seen() {
    let mut table = Table::read();
    let case = &mut table.case[0];
    case.cylinder[2].finding = "rings-or-bore".to_owned();
    case.says.push("no sentence of ours".to_owned());
    case.engine.push("alike-and-good".to_owned());
    assert_eq!(faults(case).len(), 3, "{:?}", faults(case));
}
