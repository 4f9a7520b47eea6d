//! What is asked of memory: by the kernel nothing, by what reads recipes no more than in step with their length.
//!
//! A binary of its own, since its allocator counts what each thread asks for.
#![allow(missing_docs, unsafe_code, clippy::unwrap_used)]

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

mod growth;
mod kernel;

/// What a thread has asked for so far.
#[derive(Clone, Copy, Default, Debug)]
struct Asked {
    times: usize,
    bytes: usize,
}

struct Counting;

thread_local! {
    static ASKED: Cell<Asked> = const { Cell::new(Asked { times: 0, bytes: 0 }) };
}

fn asked() -> Asked {
    ASKED.get()
}

fn count(bytes: usize) {
    // A thread that ends no longer counts.
    let _ = ASKED.try_with(|asked| {
        let Asked {
            times,
            bytes: before,
        } = asked.get();
        asked.set(Asked {
            times: times + 1,
            bytes: before + bytes,
        });
    });
}

// SAFETY: all calls are handed on to the system's allocator as they are.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count(layout.size());
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, pointer: *mut u8, layout: Layout) {
        unsafe { System.dealloc(pointer, layout) }
    }

    unsafe fn realloc(&self, pointer: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        count(size);
        unsafe { System.realloc(pointer, layout, size) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;
