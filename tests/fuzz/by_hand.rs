//! Throws made-up texts at the targets without a fuzzer: nothing is needed but this compiler.
//!
//!   by-hand TARGET COUNT SEED [FILE...]      files are recipes to start from
//!   by-hand seeds TARGET FOLDER              puts what that target starts from into a folder, for the fuzzer
//!
//! A text that breaks what must hold is put into the folder that `FUZZ_WORK` names (the present one, where it names
//! none), as `TARGET.found-N`; one that takes more than a second is told and put beside it.

#[path = "holds/mod.rs"]
mod holds;
mod made_up;

use std::path::Path;
use std::time::{Duration, Instant};

use made_up::{Draws, MadeUp, own, words};

/// What takes longer is told.
const SLOW: Duration = Duration::from_secs(1);

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [name, count, seed, files @ ..] = arguments.as_slice() else {
        eprintln!("by-hand TARGET COUNT SEED [FILE...]");
        std::process::exit(2);
    };
    if name == "seeds" {
        for (place, text) in own(count).into_iter().flatten().enumerate() {
            let _ = std::fs::write(Path::new(seed).join(place.to_string()), text);
        }
        return;
    }
    let target = holds::TARGETS.iter().find(|(known, _)| known == name);
    let numbers = (count.parse::<u64>(), seed.parse::<u64>());
    let (Some((_, target)), (Ok(count), Ok(seed))) = (target, numbers) else {
        eprintln!("there is no target `{name}`, or `{count}` and `{seed}` are no numbers");
        std::process::exit(2);
    };
    let recipes = files
        .iter()
        .filter_map(|file| std::fs::read_to_string(file).ok());
    let own = own(name).map(|texts| texts.iter().map(|text| (*text).to_owned()));
    let seeds: Vec<String> = match own {
        Some(own) => own.collect(),
        None => recipes.collect(),
    };
    let mut made = MadeUp {
        seeds,
        words: words(include_str!("annulet.dict")),
        draws: Draws(seed),
    };
    let folder = std::env::var("FUZZ_WORK").unwrap_or_else(|_| ".".to_owned());
    let put = |ending: &str, text: &str| {
        let place = Path::new(&folder).join(format!("{name}.{ending}"));
        let _ = std::fs::write(&place, text);
        place
    };
    let begun = Instant::now();
    let (mut found, mut slow) = (0_u64, 0_u64);
    for _ in 0..count {
        let text = made.next();
        let start = Instant::now();
        if std::panic::catch_unwind(|| target(&text)).is_err() {
            found += 1;
            put(&format!("found-{found}"), &text);
        }
        if start.elapsed() > SLOW {
            slow += 1;
            let place = put(&format!("slow-{slow}"), &text);
            println!("{name}: {:?} for {}", start.elapsed(), place.display());
        }
    }
    let took = begun.elapsed().as_secs_f64();
    println!("{name}: {count} texts of seed {seed} in {took:.0} s, {found} broke what must hold, {slow} were slow");
    std::process::exit(i32::from(found > 0));
}
