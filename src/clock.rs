//! stand-in
#[derive(Debug,Clone,Copy,Default)] pub struct Clock{pub fixed:Option<chrono::NaiveDate>}
impl Clock{pub fn today(&self)->chrono::NaiveDate{self.fixed.unwrap_or_else(||chrono::Local::now().date_naive())}}
