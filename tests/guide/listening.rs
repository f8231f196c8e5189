//! `hissward listen`, stopped and killed, and who finds what it left.

use std::process::{Command, Output, Stdio};

use super::shop::Shop;

/// Starts to record a long clip and waits until two seconds of it are on the disk.
fn recording(shop: &Shop, air: &str) -> std::process::Child {
    let child = shop
        .command(&["listen", &shop.job(), "--at", "intake", "--air", air, "--cylinder", "2", "--silent"])
        .args(["--seconds", "600"])
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    shop.wait_for_sound(&format!("c2-intake-{air}-t1.wav"), 2.0);
    child
}

fn signal(child: &std::process::Child, name: &str) {
    let sent = Command::new("kill").args([name, &child.id().to_string()]).status();
    assert!(sent.expect("kill").success());
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn a_recording_that_is_stopped_before_its_time_is_kept_and_marked() {
    let shop = Shop::new();
    let child = recording(&shop, "off");
    signal(&child, "-INT");
    let output = child.wait_with_output().expect("ends");
    assert!(output.status.success(), "{}", said(&output));
    let file = shop.job_file();
    assert!(file.contains("cut_short = true") && file.contains("c2-intake-off-t1.wav"), "{file}");
    // One that is as long as was asked for is not.
    let whole =
        ["listen", &shop.job(), "--at", "intake", "--air", "on", "--cylinder", "2", "--silent", "--seconds", "1"];
    assert!(shop.command(&whole).output().expect("runs").status.success());
    assert_eq!(shop.job_file().matches("cut_short").count(), 1, "{}", shop.job_file());
}

#[test]
fn what_a_killed_recording_left_is_kept_by_whichever_command_comes_next() {
    let shop = Shop::new();
    let job = shop.job();
    let gauge = ["gauge", &job, "--cylinder", "2", "--loss", "20"];
    let rank = ["rank", &job];
    for (air, next) in [("off", &gauge[..]), ("on", &rank[..])] {
        let child = recording(&shop, air);
        signal(&child, "-KILL");
        let output = child.wait_with_output().expect("ends");
        assert!(!output.status.success() && shop.job_file().contains("[[pending]]"));
        let output = shop.command(next).output().expect("runs");
        assert!(output.status.code().is_some_and(|code| code < 2), "{next:?}: {}", said(&output));
        let name = format!("c2-intake-{air}-t1.wav");
        assert!(said(&output).contains(&name) && said(&output).contains("marked as cut short"), "{}", said(&output));
        assert!(!shop.job_file().contains("[[pending]]"), "{}", shop.job_file());
    }
    assert_eq!(shop.job_file().matches("cut_short = true").count(), 2, "{}", shop.job_file());
}

#[test]
fn a_recording_under_way_is_left_alone_by_who_reads_the_job() {
    let shop = Shop::new();
    let job = shop.job();
    let short = ["--cylinder", "2", "--silent", "--seconds", "6"];
    for air in ["off", "on"] {
        let done = shop.command(&["listen", &job, "--at", "exhaust", "--air", air]).args(short).output();
        assert!(done.expect("runs").status.success());
    }
    let mut child = recording(&shop, "off");
    let output = shop.command(&["rank", &job]).output().expect("runs");
    assert!(output.status.code().is_some_and(|code| code < 2), "{}", said(&output));
    assert!(!said(&output).contains("cut short") && shop.job_file().contains("[[pending]]"), "{}", said(&output));
    assert!(child.try_wait().expect("a child").is_none(), "it records on");
    signal(&child, "-INT");
    let output = child.wait_with_output().expect("ends");
    assert!(output.status.success() && shop.job_file().matches("[[clip]]").count() == 3, "{}", said(&output));
}

#[test]
fn clips_of_another_gain_are_told_in_the_ranking() {
    let shop = Shop::new();
    let job = shop.job();
    let record = |air: &str| {
        let done = shop
            .command(&["listen", &job, "--at", "exhaust", "--air", air])
            .args(["--cylinder", "1", "--silent", "--seconds", "6"])
            .output();
        assert!(done.expect("runs").status.success());
    };
    record("off");
    // Twice the amplitude: 6 dB in every band.
    shop.loudness(0.006);
    record("on");
    let output = shop.command(&["rank", &job, "--json"]).output().expect("runs");
    let ranking: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let caveats = ranking["results"][0]["openings"][0]["caveats"].as_array().expect("caveats");
    let told = caveats.iter().find(|caveat| caveat["code"] == "gain-differs").unwrap_or_else(|| panic!("{ranking}"));
    assert!(
        told["text"]
            .as_str()
            .is_some_and(|text| text.contains("c1-exhaust-on-t1.wav") && text.contains("is 6 dB above")),
        "{told}"
    );
}
