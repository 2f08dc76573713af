//! Timings of drying; printed by `cargo xtask bench`, judged by nobody.

fn main() {
    divan::main();
}
