//! Lowest point of a function of one number.

/// Lowest point between two places by golden section (Kiefer 1953), for a function with one valley; returns place and value.
pub(crate) fn lowest(f: &impl Fn(f64) -> f64, low: f64, high: f64, steps: u32) -> (f64, f64) {
    let share = f64::midpoint(5f64.sqrt(), -1.0);
    let (mut low, mut high) = (low, high);
    let (mut a, mut b) = (high - share * (high - low), low + share * (high - low));
    let (mut at_a, mut at_b) = (f(a), f(b));
    for _ in 0..steps {
        if at_a <= at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - share * (high - low);
            at_a = f(a);
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + share * (high - low);
            at_b = f(b);
        }
    }
    if at_a <= at_b { (a, at_a) } else { (b, at_b) }
}
