//! How fast the networks are alone, and how much the rest of the tracker adds.
//!
//! ```text
//! ffmpeg -v error -i CLIP -pix_fmt yuv420p -f rawvideo - \
//!   | bench_vision MODEL_FOLDER WIDTH HEIGHT [FRAMES]
//! ```
//!
//! Prints the median time a frame, in milliseconds, of the landmark network alone on 1 and 2
//! threads, on two networks side by side, and of the tracker on pictures that are already decoded.

use lessonwright_model::{Picture, PixelPoint};
use lessonwright_vision::{
    BodyNetwork, ModelFiles, Networks, Refinement, Square, Tracker, TrackerConfig, VisionError,
    choose_golfer,
};
use std::error::Error;
use std::io::Read;
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().collect();
    let (models, width, height, frames) = match &arguments[..] {
        [_, models, width, height] => (models, width, height, "60"),
        [_, models, width, height, frames] => (models, width, height, frames.as_str()),
        _ => return Err("usage: bench_vision MODEL_FOLDER WIDTH HEIGHT [FRAMES]".into()),
    };
    let pictures = read_pictures(width.parse()?, height.parse()?, frames.parse()?)?;
    let files = ModelFiles::in_folder(Path::new(models));
    println!("{} pictures of {width}x{height}", pictures.len());
    for threads in [1, 2] {
        let mut body = BodyNetwork::load(&files, threads)?;
        let input = vec![0.5; 3 * 256 * 256];
        let alone = timed(pictures.len(), |_| body.run_network(&input))?;
        print_times("landmark network alone", threads, alone);
        let square = Square {
            centre: PixelPoint {
                x: pictures[0].width as f64 / 2.0,
                y: pictures[0].height as f64 / 2.0,
            },
            side_px: pictures[0].height as f64 * 0.75,
            rotation_rad: 0.0,
        };
        let looking = timed(pictures.len(), |i| {
            body.look(&pictures[i], &square, Refinement::Heatmap)
        })?;
        print_times("sampling, network, heatmaps", threads, looking);
    }
    print_side_by_side(&files, pictures.len())?;
    for threads in [1, 2] {
        let start = Instant::now();
        let mut networks = Networks::load(&files, threads)?;
        println!("{threads} thread(s): loading {:.0} ms", ms_since(start));
        let detecting = timed(pictures.len().min(20), |i| {
            networks.detector.detect(&pictures[i])
        })?;
        print_times("detector with sampling", threads, detecting);
        print_tracker(&mut networks, &pictures, threads)?;
    }
    Ok(())
}

/// The rate that two networks of one thread each reach with nothing else to do: what the tracker
/// with two threads is to be measured against.
fn print_side_by_side(files: &ModelFiles, count: usize) -> Result<(), Box<dyn Error>> {
    let input = vec![0.5; 3 * 256 * 256];
    let mut bodies = [BodyNetwork::load(files, 1)?, BodyNetwork::load(files, 1)?];
    let each = count.div_ceil(2);
    let start = Instant::now();
    std::thread::scope(|scope| {
        let runs = bodies.each_mut().map(|body| {
            let input = &input;
            scope.spawn(move || timed(each, |_| body.run_network(input)).map(drop))
        });
        runs.into_iter()
            .try_for_each(|run| run.join().expect("a run that does not panic"))
    })?;
    println!(
        "2 x 1 thread(s): landmark network alone: mean {:.2} ms a picture",
        ms_since(start) / (2 * each) as f64
    );
    Ok(())
}

fn print_tracker(
    networks: &mut Networks,
    pictures: &[Picture],
    threads: usize,
) -> Result<(), Box<dyn Error>> {
    let start = Instant::now();
    let seed = choose_golfer(&mut networks.detector, pictures.iter().step_by(8))?;
    println!(
        "{threads} thread(s): choosing the golfer {:.0} ms",
        ms_since(start)
    );
    let mut tracker = Tracker::new(networks, TrackerConfig::default(), seed);
    let mut tracked = Vec::new();
    let handed_in = pictures.to_vec();
    let start = Instant::now();
    for picture in handed_in {
        tracked.extend(tracker.push(picture, true)?);
    }
    tracked.extend(tracker.finish()?);
    println!(
        "{threads} thread(s): tracker: mean {:.2} ms a frame; seen in {} frames, looked for again \
         {} times",
        ms_since(start) / pictures.len() as f64,
        tracked.iter().filter(|t| t.body.is_some()).count(),
        tracker.redetections()
    );
    Ok(())
}

/// Times of `work` on 0..count, ms.
fn timed<T>(
    count: usize,
    mut work: impl FnMut(usize) -> Result<T, VisionError>,
) -> Result<Vec<f64>, VisionError> {
    (0..count)
        .map(|i| {
            let start = Instant::now();
            work(i)?;
            Ok(ms_since(start))
        })
        .collect()
}

fn print_times(what: &str, threads: usize, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    println!(
        "{threads} thread(s): {what}: median {:.2} ms, fastest {:.2} ms",
        times[times.len() / 2],
        times[0],
    );
}

fn ms_since(start: Instant) -> f64 {
    start.elapsed().as_secs_f64() * 1e3
}

fn read_pictures(
    width: usize,
    height: usize,
    frames: usize,
) -> Result<Vec<Picture>, Box<dyn Error>> {
    let chroma = width.div_ceil(2) * height.div_ceil(2);
    let mut input = std::io::stdin().lock();
    let mut pictures = Vec::new();
    let mut frame = vec![0; width * height + 2 * chroma];
    while pictures.len() < frames && input.read_exact(&mut frame).is_ok() {
        let (luma, rest) = frame.split_at(width * height);
        let (cb, cr) = rest.split_at(chroma);
        pictures.push(Picture {
            width,
            height,
            luma: luma.to_vec(),
            cb: cb.to_vec(),
            cr: cr.to_vec(),
        });
    }
    // Whatever else comes is read too, so that the sender does not fail.
    std::io::copy(&mut input, &mut std::io::sink())?;
    if pictures.is_empty() {
        return Err("no picture on standard input".into());
    }
    Ok(pictures)
}
