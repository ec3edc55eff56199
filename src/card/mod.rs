<<<<<<< HEAD
//! stand-in until merged
pub enum Emphasis{Plain,Strong,Alert} pub struct CardLine{pub label:&'static str,pub value:String,pub emphasis:Emphasis}
pub fn fitting_card(j:&crate::job::Job,n:&str,_w:usize)->Vec<CardLine>{vec![CardLine{label:"wearer",value:format!("{} {n}",j.wearer.name.clone().unwrap_or_default()),emphasis:Emphasis::Strong}]}
=======
//! The fitting card.
>>>>>>> w-parts
