//! Only ordinary files are read and written: pipes are not waited for, devices neither read nor replaced.

use std::ffi::OsStr;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::{FileTypeExt, symlink};
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use tempfile::TempDir;

use crate::support::{band_with, run_in};

/// A call that would wait for a pipe waits for ever; none of these takes so long.
const PATIENCE: Duration = Duration::from_secs(10);

/// A folder with a recipe, a pipe called like one, and links to it; nothing where this machine makes no pipes.
fn folder() -> Option<TempDir> {
    let folder = TempDir::new().unwrap();
    let pipe = folder.path().join("pipe.annulet");
    let made = Command::new("mkfifo").arg(&pipe).status();
    if !made.is_ok_and(|status| status.success()) {
        return None;
    }
    symlink(&pipe, folder.path().join("link.annulet")).unwrap();
    std::fs::write(folder.path().join("good.annulet"), band_with(&[])).unwrap();
    std::fs::write(
        folder.path().join("using.annulet"),
        format!("use \"pipe.annulet\"\n{}", band_with(&[])),
    )
    .unwrap();
    Some(folder)
}

fn is_pipe(path: &Path) -> bool {
    std::fs::symlink_metadata(path)
        .unwrap()
        .file_type()
        .is_fifo()
}

#[test]
fn a_pipe_is_not_waited_for() {
    let Some(folder) = folder() else { return };
    for arguments in [
        &["check", "pipe.annulet"][..],
        &["check", "."],
        &["eval", "link.annulet"],
        &["check", "using.annulet"],
        &["ask", "weight", "--in", "pipe.annulet"],
        &["bench", "pipe.annulet"],
    ] {
        let start = Instant::now();
        let ran = run_in(folder.path(), arguments, b"");
        assert!(start.elapsed() < PATIENCE, "{arguments:?}");
        assert_eq!(ran.status, 2, "{arguments:?}: {}", ran.stderr);
        assert!(
            ran.stderr.contains("is a pipe"),
            "{arguments:?}: {}",
            ran.stderr
        );
    }
    // The others of the folder are checked all the same.
    let all = run_in(folder.path(), &["check", "."], b"");
    assert!(all.stderr.contains("4 recipes: 1 hold"), "{}", all.stderr);
}

#[test]
fn what_is_no_file_is_not_replaced() {
    let Some(folder) = folder() else { return };
    let pipe = folder.path().join("pipe.annulet");
    for line in [
        "save pipe.annulet",
        "save pipe.annulet over",
        "save link.annulet",
        "save link.annulet over",
    ] {
        let typed = format!("width 6 mm\n{line}\n");
        let start = Instant::now();
        let ran = run_in(folder.path(), &["bench", "good.annulet"], typed.as_bytes());
        assert!(start.elapsed() < PATIENCE, "{line}");
        assert_eq!(ran.status, 2, "{line}: {}", ran.stderr);
        assert!(ran.stderr.contains("a pipe"), "{line}: {}", ran.stderr);
        assert!(ran.stderr.contains("not saved"), "{line}: {}", ran.stderr);
        assert!(is_pipe(&pipe), "{line}");
        let link = std::fs::symlink_metadata(folder.path().join("link.annulet"));
        assert!(link.unwrap().is_symlink(), "{line}");
    }
    std::fs::create_dir(folder.path().join("folder.annulet")).unwrap();
    let typed = b"width 6 mm\nsave folder.annulet over\n";
    let ran = run_in(folder.path(), &["bench", "good.annulet"], typed);
    assert!(ran.stderr.contains("it is a folder"), "{}", ran.stderr);
}

#[test]
fn what_a_killed_save_left_is_cleared_by_a_later_one() {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    std::fs::write(path("good.annulet"), band_with(&[])).unwrap();
    // A name, whether it is two hours old, and whether it stays.
    let files = [
        (".annulet-abcdef.saving", true, false),
        (".annulet-ghijkl.saving", false, true),
        (".annulet-notes", true, true),
        ("mine.saving", true, true),
    ];
    let before = std::time::SystemTime::now() - Duration::from_secs(7200);
    for (name, old, _) in files {
        let file = std::fs::File::create(path(name)).unwrap();
        if old {
            file.set_modified(before).unwrap();
        }
    }
    symlink("good.annulet", path(".annulet-link.saving")).unwrap();
    let ran = run_in(
        folder.path(),
        &["bench", "good.annulet"],
        b"width 6 mm\nsave\n",
    );
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    for (name, _, stays) in files {
        assert_eq!(path(name).exists(), stays, "{name}");
    }
    assert!(path(".annulet-link.saving").is_symlink());
}

#[test]
fn a_link_that_leads_nowhere_is_said_to_be_one_and_stays() {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    std::fs::write(path("good.annulet"), band_with(&[])).unwrap();
    symlink("gone.annulet", path("dang.annulet")).unwrap();
    symlink("loop.annulet", path("loop.annulet")).unwrap();
    let links = [
        ("dang.annulet", "a link to a file that is not there"),
        ("loop.annulet", "a link that leads back to itself"),
    ];
    for (name, what) in links {
        for line in [format!("save {name}"), format!("save {name} over")] {
            let typed = format!("width 6 mm\n{line}\n");
            let ran = run_in(folder.path(), &["bench", "good.annulet"], typed.as_bytes());
            assert_eq!(ran.status, 2, "{line}: {}", ran.stderr);
            assert!(ran.stderr.contains(what), "{line}: {}", ran.stderr);
            let link = std::fs::symlink_metadata(path(name)).unwrap();
            assert!(link.is_symlink(), "{line}");
            assert!(!path("gone.annulet").exists(), "{line}");
        }
        let using = format!("use \"{name}\"\n{}", band_with(&[]));
        for (arguments, stdin) in [
            (&["check", name][..], ""),
            (&["check", "-"], using.as_str()),
        ] {
            let ran = run_in(folder.path(), arguments, stdin.as_bytes());
            assert_eq!(ran.status, 2, "{arguments:?}: {}", ran.stderr);
            assert!(ran.stderr.contains(what), "{arguments:?}: {}", ran.stderr);
            assert!(!ran.stderr.contains("did you mean"), "{}", ran.stderr);
        }
    }
}

#[test]
fn what_is_saved_onto_a_device_is_not_written_rather_than_not_read() {
    let folder = TempDir::new().unwrap();
    std::fs::write(folder.path().join("good.annulet"), band_with(&[])).unwrap();
    symlink("/dev/null", folder.path().join("l.annulet")).unwrap();
    let typed = b"width 6 mm\nsave l.annulet\n";
    let ran = run_in(folder.path(), &["bench", "good.annulet"], typed);
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("only files are written"),
        "{}",
        ran.stderr
    );
    assert!(!ran.stderr.contains("are read"), "{}", ran.stderr);
}

#[test]
fn what_stands_for_standard_input_is_a_file_or_refused_in_words() {
    let folder = TempDir::new().unwrap();
    if !Path::new("/dev/stdin").exists() {
        return;
    }
    let ran = run_in(
        folder.path(),
        &["check", "/dev/stdin"],
        band_with(&[]).as_bytes(),
    );
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("`-` is standard input"),
        "{}",
        ran.stderr
    );
    let ran = run_in(folder.path(), &["check", "/dev/null"], b"");
    assert_eq!(ran.status, 2);
    assert!(ran.stderr.contains("is a device"), "{}", ran.stderr);
}

#[test]
fn a_recipe_of_a_folder_whose_name_cannot_be_read_is_said() {
    let folder = TempDir::new().unwrap();
    std::fs::write(folder.path().join("good.annulet"), band_with(&[])).unwrap();
    let odd = folder.path().join(OsStr::from_bytes(b"b\xe9d.annulet"));
    // Some file systems take no such name.
    if std::fs::write(odd, "band b { ").is_err() {
        return;
    }
    let ran = run_in(folder.path(), &["check", "."], b"");
    assert_eq!(ran.status, 2, "{}", ran.stderr);
    assert!(ran.stderr.contains("is not UTF-8"), "{}", ran.stderr);
}
