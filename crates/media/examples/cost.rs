//! What reading a clip costs: frames, time, processor time and memory of this process and the
//! decoder's. `cargo run --release -p lessonwright-media --example cost -- CLIP [LONGEST_SIDE_PX]`.
//! The last argument `swings` looks for swings instead. Linux only, where proc(5) tells.

use lessonwright_media::{FrameReader, FrameRequest, Tools, find_swings, probe};
use lessonwright_model::Cancel;
use std::error::Error;
use std::path::PathBuf;
use std::time::Instant;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let path = PathBuf::from(arguments.next().ok_or("name a clip")?);
    let what = arguments.next();
    let (tools, cancel) = (Tools::locate(None)?, Cancel::default());
    let begun = Instant::now();
    let clip = probe(&tools, &path, None, &cancel)?;
    let facts = &clip.facts;
    println!(
        "{} {} bit, {} × {}, {} frames at {:.2} frames/s, probed in {:.2} s",
        facts.codec,
        facts.bit_depth,
        facts.width_px,
        facts.height_px,
        facts.frame_times_s.len(),
        facts.rate_hz,
        begun.elapsed().as_secs_f64()
    );
    let begun = Instant::now();
    if what.as_deref() == Some("swings") {
        let swings = find_swings(&tools, &clip, &mut |_| {}, &cancel)?;
        println!("{swings:#?}\nin {:.2} s", begun.elapsed().as_secs_f64());
        return Ok(());
    }
    let longest_side_px = what.map(|px| px.parse()).transpose()?;
    let request = FrameRequest::whole(longest_side_px);
    let reader = FrameReader::open(&tools, &clip, request, &cancel)?;
    let child = reader.process_id().to_string();
    let (mut count, mut child_mb, mut child_cpu_s) = (0, 0.0, 0.0);
    for frame in reader {
        frame?;
        count += 1;
        // The last of them may come after the child's end.
        if let (Some(mb), Some(cpu_s)) = (peak_mb(&child), cpu_s(&child)) {
            (child_mb, child_cpu_s) = (mb, cpu_s);
        }
    }
    let wall_s = begun.elapsed().as_secs_f64();
    println!(
        "{count} frames in {wall_s:.2} s ({:.1} frames/s), decoder's processor time {:.2} ms a frame",
        f64::from(count) / wall_s,
        child_cpu_s / f64::from(count) * 1e3
    );
    let own_mb = peak_mb("self").ok_or("no /proc/self/status")?;
    println!("most memory: {own_mb:.0} MB here, {child_mb:.0} MB in the decoder");
    Ok(())
}

/// "VmHWM" of proc(5), MB.
fn peak_mb(process: &str) -> Option<f64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kib: f64 = line.trim().trim_end_matches(" kB").parse().ok()?;
    Some(kib * 1024.0 / 1e6)
}

/// User and system time of proc(5)'s `stat`, s; 100 ticks a second on every Linux in use.
fn cpu_s(process: &str) -> Option<f64> {
    let stat = std::fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    let (_, fields) = stat.rsplit_once(')')?;
    let ticks = fields.split_whitespace().skip(11).take(2);
    Some(ticks.filter_map(|t| t.parse::<f64>().ok()).sum::<f64>() / 100.0)
}
