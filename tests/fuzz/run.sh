#!/bin/sh
# Throws made-up texts at the library and watches for panics, overflow, hangs and lost characters.
#
#   tests/fuzz/run.sh [MINUTES]        30 in all unless said otherwise
#
# What each target holds true stands at the top of holds/TARGET.rs; the suite runs each over a few texts too
# (tests/suite/fuzz_smoke.rs). A third of the time goes to `check`, any text as a recipe with two overrides; the
# others share the rest.
#
# Without cargo-fuzz the same targets take made-up texts that are not led by coverage, on one thread:
#   cargo run --release --manifest-path tests/fuzz/Cargo.toml --bin by-hand -- TARGET COUNT SEED examples/*.annulet
#
# The fuzzer keeps texts that reach new code and changes them further (libFuzzer, by `cargo install cargo-fuzz`).
# It starts from copies of the examples, of the modeller's bands and of the suite's cases, and knows the language's
# words by annulet.dict. Debug assertions and overflow checks are on. A text may hold 4096 bytes, take 5 seconds and
# 2 GB; one that takes more than a second is reported as slow.
#
# Corpus and findings lie in FUZZ_WORK (default: beside this file, where git ignores them) and are kept for the
# next run. A target that finds something stops, leaves the text in artifacts/TARGET, and the others go on; the
# status is then 1. Make a finding smaller with
#   cargo fuzz tmin --fuzz-dir tests/fuzz -s none TARGET FILE
# and put what is left into tests/suite/found_by_fuzzing.rs.
set -eu

minutes=${1:-30}
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
root=$(CDPATH='' cd -- "$here/../.." && pwd)
work=${FUZZ_WORK:-$here}
# The flags that count code paths are unstable; this lets a stable compiler take them.
export RUSTC_BOOTSTRAP=1

# All code here is safe Rust, so the address sanitizer has nothing to see and would only slow things down.
fuzz() {
    command=$1
    shift
    cargo fuzz "$command" --fuzz-dir "$here" --sanitizer none --debug-assertions "$@"
}

seeds=$work/corpus/seeds
rm -rf "$seeds"
mkdir -p "$seeds"
for recipe in "$root"/examples/*.annulet "$root"/tests/suite/cases/*/*.annulet; do
    [ "$(wc -c < "$recipe")" -gt 4096 ] || cp "$recipe" "$seeds/"
done
# A recipe of the modeller's cases stands between a line `recipe = """` and a line `"""`.
awk -v folder="$seeds" '
    /^recipe = """/ { count++; inside = 1; next }
    /^"""/ { inside = 0; next }
    inside { print > (folder "/modeller-" count ".annulet") }
' "$root/tests/modeller/cases.toml"
status=0
run() {
    target=$1 seconds=$2 from=$3
    mkdir -p "$work/corpus/$target" "$work/artifacts/$target"
    echo "== $target: $seconds s"
    fuzz run "$target" "$work/corpus/$target" "$from" -- \
        -dict="$here/annulet.dict" -artifact_prefix="$work/artifacts/$target/" \
        -max_len=4096 -len_control=0 -timeout=5 -report_slow_units=1 -rss_limit_mb=2048 \
        -max_total_time="$seconds" -print_final_stats=1 -print_funcs=0 || status=1
}

fuzz build
total=$((minutes * 60))
run check $((total / 3)) "$seeds"
for target in ask bench diff drawing editor roundtrip scale shapes sought tidy; do
    # What a target starts from beside recipes stands in made_up.rs.
    own=$work/corpus/own-$target
    rm -rf "$own"
    mkdir -p "$own"
    cargo run --release --quiet --manifest-path "$here/Cargo.toml" --bin by-hand -- seeds "$target" "$own"
    [ -n "$(ls "$own")" ] || own=$seeds
    run "$target" $((total * 2 / 30)) "$own"
done
exit $status
