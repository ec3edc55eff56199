//! stand-in until merged
use super::*; use crate::clock::Clock; use crate::job::*; use crate::gate::*; use std::path::Path; use serde_json::Value;
#[derive(Debug,PartialEq,Clone,Copy)] pub enum ErrorKind{Stale,NotFound,Other}
#[derive(Debug)] pub struct DeskError{pub kind:ErrorKind,pub message:String,pub hints:Vec<String>}
impl std::fmt::Display for DeskError{fn fmt(&self,f:&mut std::fmt::Formatter<'_>)->std::fmt::Result{f.write_str(&self.message)}}
#[derive(Debug)] pub struct Desk{clock:Clock,jobs:Vec<OpenJob>,staff:StaffRoll,drafts:Vec<(String,String,String)>}
type R<T>=Result<T,DeskError>;
fn nf()->DeskError{DeskError{kind:ErrorKind::NotFound,message:"no".into(),hints:vec![]}}
pub fn fill_demo(d:&mut Desk)->R<()>{ d.staff.0.push(StaffMember{name:"Mara Lind".into(),role:Role::DispensingOptician,registration:Some("D-1".into()),supervisor:None}); d.new_job("Ada Blom",None)?; d.new_job("Ola Berg",None)?; Ok(())}
impl Desk{
 pub fn open(_:&Path,clock:Clock)->R<Self>{Ok(Self{clock,jobs:vec![],staff:StaffRoll::default(),drafts:vec![]})}
 pub fn create(p:&Path,clock:Clock)->R<Self>{Self::open(p,clock)}
 pub fn today(&self)->chrono::NaiveDate{self.clock.today()} pub fn today_is_fixed(&self)->bool{self.clock.fixed.is_some()}
 pub fn new_job(&mut self,n:&str,_:Option<&str>)->R<OpenJob>{let mut job=Job::default();job.wearer.name=Some(n.into());let o=OpenJob{number:format!("{:04}",self.jobs.len()+1),revision:1,job,acceptances:vec![],passed:vec![],question:None};self.jobs.push(o.clone());Ok(o)}
 pub fn load(&self,n:&str)->R<OpenJob>{self.jobs.iter().find(|j|j.number==n).cloned().ok_or_else(nf)}
 pub fn findings(&self,o:&OpenJob,g:Gate)->R<Vec<Finding>>{let p=Practice::default();Ok(crate::gate::findings(g,&o.job,Surroundings{today:self.today(),staff:&self.staff,practice:&p,others:&[]},&o.acceptances,&o.passed))}
 pub fn record(&mut self,n:&str,s:Section,c:&Value,_r:Option<i64>,_:Option<&str>)->R<OpenJob>{let j=self.jobs.iter_mut().find(|j|j.number==n).ok_or_else(nf)?;j.job.record(s,c).map_err(|e|DeskError{kind:ErrorKind::Other,message:e.to_string(),hints:vec![]})?;j.revision+=1;Ok(j.clone())}
 pub fn advance(&mut self,n:&str,g:Gate,_:&str,_:Option<i64>)->R<Advance>{let j=self.jobs.iter_mut().find(|j|j.number==n).ok_or_else(nf)?;j.job.stage=Some(g.to_stage());Ok(Advance{moved:true,stage:g.to_stage(),findings:vec![]})}
 pub fn accept(&mut self,_:&str,_:&str,_:Option<&str>,_:&str,_:&str)->R<Accepted>{Err(nf())}
 pub fn send_back(&mut self,_:&str,_:&str,_:&str)->R<()>{Err(nf())} pub fn cancel(&mut self,_:&str,_:&str,_:&str)->R<()>{Err(nf())}
 pub fn recheck(&mut self,_:&str,_:&str)->R<OpenJob>{Err(nf())} pub fn ask(&mut self,_:&str,_:&str,_:&str)->R<()>{Err(nf())} pub fn answer(&mut self,_:&str,_:&str,_:&str)->R<()>{Err(nf())}
 fn line(j:&OpenJob)->JobLine{JobLine{number:j.number.clone(),stage:j.job.stage(),past:false,wearer:j.job.wearer.name.clone().unwrap_or_default(),born:j.job.wearer.born,due_on:j.job.order.due_on,promised_on:j.job.promised_on,collection_at:j.job.collection_at,late:false,held:vec![]}}
 pub fn find(&self,t:&str,_:usize)->R<Vec<JobLine>>{Ok(self.jobs.iter().map(Self::line).filter(|l|l.wearer.to_lowercase().contains(&t.to_lowercase())).collect())}
 pub fn worklist(&self)->R<Vec<JobLine>>{Ok(self.jobs.iter().map(Self::line).collect())}
 pub fn history(&self,_:&str)->R<Vec<Event>>{Ok(vec![])} pub fn staff(&self)->R<StaffRoll>{Ok(self.staff.clone())} pub fn add_staff(&mut self,m:StaffMember)->R<()>{self.staff.0.push(m);Ok(())}
 pub fn practice(&self)->R<Practice>{Ok(Practice::default())}
 pub fn save_draft(&mut self,n:&str,f:&str,t:&str)->R<()>{self.clear_draft(n,f)?;self.drafts.push((n.into(),f.into(),t.into()));Ok(())}
 pub fn clear_draft(&mut self,n:&str,f:&str)->R<()>{self.drafts.retain(|d|!(d.0==n&&d.1==f));Ok(())}
 pub fn drafts(&self,n:&str)->R<Vec<(String,String)>>{Ok(self.drafts.iter().filter(|d|d.0==n).map(|d|(d.1.clone(),d.2.clone())).collect())}
 pub fn data_version(&self)->i64{0}
}
