//! Is the file whole, old or new, whenever a save is cut off?

mod fixture;

use fixture::{dish_id, plan};
use std::{
    env, fs,
    path::Path,
    process::{Command, Stdio},
    sync::Arc,
    time::{Duration, Instant},
};
use tranche::{
    rotation::Rotation,
    store::{read_rotation, rotation_to_text, save_rotation, write_whole},
};

const WHERE: &str = "TRANCHE_TEST_SAVE_TO";
const KILLS: u64 = 200;

/// Two plans of some size, so that writing one takes a while.
fn plans() -> [Rotation; 2] {
    ["old", "new"].map(|title| {
        let mut plan = plan();
        plan.title = title.into();
        let slaw = plan.dishes[&dish_id("slaw")].clone();
        for i in 0..150 {
            let mut copy = (*slaw).clone();
            copy.id = dish_id(&format!("{title}-slaw-{i}"));
            plan.dishes.insert(copy.id.clone(), Arc::new(copy));
        }
        plan
    })
}

/// No question of its own: in the child process it saves until it is killed.
#[test]
fn saver() {
    let Some(path) = env::var_os(WHERE) else { return };
    // Laid out beforehand, so that most of the time is spent in the writing.
    let texts = plans().map(|p| rotation_to_text(&p));
    for i in 0.. {
        write_whole(Path::new(&path), texts[i % 2].as_bytes()).unwrap();
    }
}

fn litter(folder: &Path) -> usize {
    fs::read_dir(folder).unwrap().count() - 1
}

#[test]
fn a_save_cut_off_at_any_moment_leaves_a_whole_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("plan.rotation.ron");
    let [old, new] = plans();
    save_rotation(&path, &old).unwrap();
    let (mut seen_old, mut seen_new, mut cut_off) = (0, 0, 0);
    for round in 0..KILLS {
        let before = fs::metadata(&path).unwrap().modified().unwrap();
        let mut child = Command::new(env::current_exe().unwrap())
            .args(["saver", "--exact", "--test-threads=1"])
            .env(WHERE, &path)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Not before it saves, then at some moment of the next few saves.
        let start = Instant::now();
        while fs::metadata(&path).unwrap().modified().unwrap() == before && start.elapsed() < Duration::from_secs(5) {
            std::thread::sleep(Duration::from_micros(200));
        }
        std::thread::sleep(Duration::from_micros(round.wrapping_mul(2_654_435_761) % 12_000));
        child.kill().unwrap();
        child.wait().unwrap();
        let read = read_rotation(&path).unwrap_or_else(|e| panic!("round {round}: {e}")).rotation;
        match read.title.as_str() {
            "old" => assert_eq!(read, old),
            "new" => assert_eq!(read, new),
            other => panic!("round {round}: a plan called {other}"),
        }
        if read == old {
            seen_old += 1
        } else {
            seen_new += 1
        }
        cut_off += usize::from(litter(folder.path()) > 0);
        assert!(litter(folder.path()) <= 1, "round {round}: what a killed save leaves is swept by the next");
    }
    println!("{seen_old} old, {seen_new} new, {cut_off} cut off in the middle");
    assert!(seen_old > 0 && seen_new > 0 && cut_off > 0, "the kills did not strike while it was saving");
    save_rotation(&path, &old).unwrap();
    assert_eq!(litter(folder.path()), 0);
}
