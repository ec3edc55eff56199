pub fn markdown() -> String {
    String::new()
}
