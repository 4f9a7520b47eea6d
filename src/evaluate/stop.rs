//! Work that may be told to end: whoever begins it hands over a flag, and what takes long looks at it between two bands.

use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

thread_local! {
    static FLAG: RefCell<Option<Arc<AtomicBool>>> = const { RefCell::new(None) };
}

/// Does some work on this thread, which ends early once the flag is raised. From then on no band can be evaluated, so
/// that every search comes to its end at once; what comes of it means nothing, and is to be thrown away by whoever finds
/// the flag raised.
///
/// # Example
/// ```
/// use std::sync::{Arc, atomic::AtomicBool};
/// use annulet::evaluate::{stopped, until};
/// let raised = Arc::new(AtomicBool::new(true));
/// assert!(until(&raised, stopped));
/// assert!(!stopped());
/// ```
pub fn until<T>(flag: &Arc<AtomicBool>, work: impl FnOnce() -> T) -> T {
    let before = FLAG.replace(Some(Arc::clone(flag)));
    let done = work();
    FLAG.set(before);
    done
}

/// Whether the present work is to end.
#[must_use]
pub fn stopped() -> bool {
    FLAG.with_borrow(|flag| {
        flag.as_ref()
            .is_some_and(|flag| flag.load(Ordering::Relaxed))
    })
}
