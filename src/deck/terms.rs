//! shim
/// shim
pub fn differ(_a: &str, _b: &str) -> bool {
    false
}
