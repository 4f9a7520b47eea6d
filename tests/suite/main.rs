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
mod densities;
mod deviations;
mod diagnostics;
mod diff;
mod dotted;
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
mod heaps;
mod hollow;
mod hostile;
mod integrals;
mod json_schema;
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
mod only_files;
mod openings;
mod outlines;
mod overrides;
mod overrides_equal_edits;
mod pattern_closed;
mod pattern_modeller;
mod pattern_swept;
mod pattern_told;
mod properties;
mod questions;
mod random_bands;
mod random_cuts;
mod random_properties;
mod random_recipe;
mod references;
mod report_by_hand;
mod requirements;
mod safe_output;
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
mod support;
mod sweeps;
mod terminal;
mod tidy;
mod trap_table;
mod traps;
mod trees;
mod units;
mod used_files;
mod variants;
mod walls;
mod why;
mod why_complete;
mod workshop;
