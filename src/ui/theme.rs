//! stand-in until merged
use ratatui::style::{Style,Modifier,Color};
#[derive(Debug,Clone)] pub struct Theme{mono:bool}
#[derive(Debug,Clone,Copy)] pub enum Role{Title,Label,Value,Focus,Muted,Stop,Warning,Note,Good,Key}
#[derive(Debug,Clone,Copy)] pub enum Mark{Stop,Warning,Note,Settled}
impl Theme{ pub fn new(no_color:bool,_l:Option<bool>)->Self{Self{mono:no_color}}
 pub fn style(&self,r:Role)->Style{ let c=|s:Style,c|if self.mono{s}else{s.fg(c)}; let s=Style::new(); match r{Role::Title|Role::Key=>s.add_modifier(Modifier::BOLD),Role::Focus=>s.add_modifier(Modifier::REVERSED),Role::Stop=>c(s,Color::Red).add_modifier(Modifier::BOLD),Role::Warning=>c(s,Color::Yellow),Role::Good=>c(s,Color::Green),Role::Muted=>s.add_modifier(Modifier::DIM),_=>s}}
 pub fn mark(&self,m:Mark)->&'static str{match m{Mark::Stop=>"■ STOP",Mark::Warning=>"▲ WARN",Mark::Note=>"· NOTE",Mark::Settled=>"✓ DONE"}}}
