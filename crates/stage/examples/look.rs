use lessonwright_stage::{motion::*,params::*,moments::*,film::*};
fn main(){
 let a: Vec<String> = std::env::args().collect();
 let p: SwingParams = if a[1]=="-" { SwingParams::default() } else { serde_json::from_str(&std::fs::read_to_string(&a[1]).unwrap()).unwrap() };
 let out=&a[2]; std::fs::create_dir_all(out).unwrap();
 let samples: usize = a.get(3).map(|s| s.parse().unwrap()).unwrap_or(1);
 let scale: usize = a.get(4).map(|s| s.parse().unwrap()).unwrap_or(540);
 let m=Motion::new(&p);
 for (v,n) in [(View::FaceOn,"f"),(View::DownTheLine,"d")] {
  let size=[scale,scale*16/9/2*2];
  let t0=std::time::Instant::now(); let f=Film::new(&p,&m,v,size,samples); eprintln!("backdrop {:?}",t0.elapsed());
  let mut list: Vec<(String,f64)> = moments(&m).iter().map(|(n,t)|(n.key().to_string(),*t)).collect();
  let k=m.key_times(); list.push(("shaft_back".into(),k.shaft_level_back)); list.push(("shaft_down".into(),k.shaft_level_down)); list.push(("through".into(),k.arm_level_through)); list.push(("wrap".into(),k.wrap)); 
  for (i,(name,t)) in list.iter().enumerate() { let t0=std::time::Instant::now(); let img=f.frame(t+p.before_s,i); eprintln!("{n} {name} {:?}",t0.elapsed());
   let w=std::fs::File::create(format!("{out}/{n}_{name}.png")).unwrap(); let mut e=png::Encoder::new(std::io::BufWriter::new(w),size[0] as u32,size[1] as u32); e.set_color(png::ColorType::Rgb); e.set_depth(png::BitDepth::Eight); e.write_header().unwrap().write_image_data(&img).unwrap(); }
 }
}
