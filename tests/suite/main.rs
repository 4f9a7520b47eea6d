//! All tests that run the program or its library from outside, in one binary.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing
)]
#![allow(clippy::string_slice)]

mod batches;
mod bench;
mod bench_complete;
mod bench_grown;
mod bench_lines;
mod bench_model;
mod bench_reach;
mod bench_stand;
mod calls;
mod cases_of_tests;
mod catalogue;
mod characters;
mod circles;
mod closed_forms;
mod command_line;
mod compare;
mod contours;
mod contours_nose;
mod defaults;
mod densities;
mod deviations;
mod diagnostics;
mod diff;
mod dotted;
mod drawings;
mod drawn_cuts;
mod editor;
mod every_way;
mod examples;
mod fineness;
mod fineness_borders;
mod fineness_in_recipes;
mod fineness_judge;
mod fingerprints;
mod fitting;
mod found_by_fuzzing;
#[path = "../fuzz/holds/mod.rs"]
mod fuzz_holds;
#[path = "../fuzz/made_up.rs"]
mod fuzz_made_up;
mod fuzz_smoke;
mod gauge;
mod glance;
mod heaps;
mod hollow;
mod hostile;
mod integrals;
mod interrupts;
mod json_schema;
mod keep;
mod layers;
mod library;
mod lines;
mod looks;
mod machine_output;
mod made_borders;
mod made_saves;
mod modeller;
mod money;
mod money_books;
mod money_by_hand;
mod money_of_orders;
mod moved_alloys;
mod moved_numbers;
mod newcomers;
mod only_files;
mod openings;
mod outlines;
mod overrides;
mod overrides_equal_edits;
mod pattern_closed;
mod pattern_kept;
mod pattern_modeller;
mod pattern_swept;
mod pattern_told;
mod plots;
mod properties;
mod questions;
mod random_bands;
mod random_cuts;
mod random_properties;
mod random_recipe;
mod references;
mod releases;
mod report_by_hand;
mod requirements;
mod safe_output;
mod screens;
mod section_files;
mod sections;
mod sheets;
mod shells;
mod sizes;
mod sought;
mod stage_order;
mod streams;
mod strength;
mod stretch;
mod stretch_made;
mod stretch_pages;
mod strips;
mod support;
mod sure;
mod sweeps;
mod tally;
mod terminal;
mod tidy;
mod trap_table;
mod traps;
mod trees;
mod units;
mod used_files;
mod variants;
mod walls;
mod weighed;
mod why;
mod why_complete;
mod workshop;
