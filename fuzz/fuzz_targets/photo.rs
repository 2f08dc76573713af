//! Any bytes as a photo of a board: measured in ordinary numbers, or refused with a sentence.
#![no_main]

use libfuzzer_sys::fuzz_target;

// The checks of the photo reader run the same body over files that were damaged on purpose.
#[path = "../../crates/cracks/tests/photos/any_bytes.rs"]
mod any_bytes;

fuzz_target!(|file: &[u8]| any_bytes::answered(file));
