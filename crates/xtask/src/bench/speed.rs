//! Frames a second of the whole road – probing, looking for the swing, decoding, choosing the
//! golfer, following – against the landmark network alone, on 1080p video, in one run.
//!
//! With `--python`, the same network under Python's `onnxruntime` and the whole pose pipeline of
//! `mediapipe` on the same clip, in that run too.

use crate::packages;
use crate::shell::{build, built, cargo, command, root, run};
use anyhow::{Context, Result, ensure};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::time::Instant;

/// Python packages of the comparison; later ones of the second have dropped the pose solution.
const PYTHON_PACKAGES: [&str; 2] = ["onnxruntime==1.24.4", "mediapipe==0.10.21"];

/// How often each time is taken.
const ROUNDS: usize = 3;

/// Upright 1080p.
const SIZE: (usize, usize) = (1080, 1920);

/// Print both times and their ratio.
pub fn print_table(python: bool) -> Result<()> {
    build()?;
    run(cargo().args([
        "build",
        "--release",
        "-p",
        "lessonwright-vision",
        "--examples",
    ]))?;
    let folder = root().join("target/bench");
    fs::create_dir_all(&folder)?;
    let clip = enlarged_demo_clip(&folder, 60)?;
    // The same seconds with every picture twice: the difference is the cost of the further frames,
    // decoding included, start-up and search left out.
    let twice = enlarged_demo_clip(&folder, 120)?;
    let [mut alone_ms, mut tracked_ms, mut short_ms, mut long_ms] = [f64::INFINITY; 4];
    let (mut frames, mut more_frames) = (0, 0);
    // In turns, and the fastest of each: other work on the machine slows any of them.
    for _ in 0..ROUNDS {
        let [alone, tracked] = on_decoded_pictures_ms(&clip)?;
        (alone_ms, tracked_ms) = (alone_ms.min(alone), tracked_ms.min(tracked));
        let (short, long) = (
            whole_road_ms(&folder, &clip)?,
            whole_road_ms(&folder, &twice)?,
        );
        (short_ms, frames) = (short_ms.min(short.0), short.1);
        (long_ms, more_frames) = (long_ms.min(long.0), long.1);
    }
    let further_ms = (long_ms - short_ms) / (more_frames - frames) as f64;
    let whole_ms = short_ms / frames as f64;
    println!(
        "\n| {} × {} px | ms a frame | rate over the network's |",
        SIZE.0, SIZE.1
    );
    println!("|---|---|---|");
    println!("| landmark network alone, all cores | {alone_ms:.1} | 1 |");
    println!(
        "| cropping, network, following, pictures decoded before | {tracked_ms:.1} | {:.2} |",
        alone_ms / tracked_ms
    );
    println!(
        "| decoding and following, each further frame | {further_ms:.1} | {:.2} |",
        alone_ms / further_ms
    );
    println!(
        "| whole command on {frames} frames, start-up and search for the swing included | {whole_ms:.1} | {:.2} |",
        alone_ms / whole_ms
    );
    if python {
        compare_with_python(&folder, &clip)
    } else {
        Ok(())
    }
}

fn enlarged_demo_clip(folder: &Path, rate_hz: u32) -> Result<PathBuf> {
    let clip = folder.join(format!("1080p{rate_hz}.mp4"));
    let scale = format!("fps={rate_hz},scale={}:{}:flags=lanczos", SIZE.0, SIZE.1);
    run(command("ffmpeg")
        .args([
            "-v",
            "error",
            "-y",
            "-i",
            "demo/clips/tom-hallam-face-on.mp4",
            "-vf",
            &scale,
        ])
        .args(["-crf", "20"])
        .arg(&clip))?;
    Ok(clip)
}

/// On pictures already decoded, as the example of `vision` prints it: what two networks of one thread
/// each reach side by side, and the tracker that uses them.
fn on_decoded_pictures_ms(clip: &Path) -> Result<[f64; 2]> {
    let mut decoder = command("ffmpeg")
        .args(["-v", "error", "-i"])
        .arg(clip)
        .args(["-pix_fmt", "yuv420p", "-f", "rawvideo", "-"])
        .stdout(Stdio::piped())
        .spawn()?;
    let pictures = decoder.stdout.take().context("ffmpeg's output")?;
    let measured = built("examples/bench_vision")
        .arg(packages::home()?)
        .args([SIZE.0.to_string(), SIZE.1.to_string()])
        .stdin(pictures)
        .output()?;
    decoder.wait()?;
    let said = String::from_utf8(measured.stdout)?;
    ensure!(
        measured.status.success(),
        "{}",
        String::from_utf8_lossy(&measured.stderr)
    );
    print!("{said}");
    let mean_ms = |start: &str| -> Result<f64> {
        let line = said.lines().find(|line| line.starts_with(start));
        let mut after = line.context("the bench names no rate")?.split("mean ");
        let number = after.nth(1).and_then(|rest| rest.split(' ').next());
        Ok(number.context("the bench names no rate")?.parse()?)
    };
    Ok([
        mean_ms("2 x 1 thread(s): landmark network alone")?,
        mean_ms("2 thread(s): tracker")?,
    ])
}

/// Time of the whole command, and the frames it followed the golfer through.
fn whole_road_ms(folder: &Path, clip: &Path) -> Result<(f64, usize)> {
    // A fresh studio each time: nothing is kept from an earlier run.
    let studio = folder.join("studio");
    let _ = fs::remove_dir_all(&studio);
    let start = Instant::now();
    let seen = built("lessonwright")
        .arg("landmarks")
        .arg(clip)
        .arg("--studio")
        .arg(&studio)
        .arg("--networks")
        .arg(packages::home()?)
        .output()?;
    let took_ms = start.elapsed().as_secs_f64() * 1e3;
    ensure!(
        seen.status.success(),
        "{}",
        String::from_utf8_lossy(&seen.stderr)
    );
    let seen: serde_json::Value = serde_json::from_slice(&seen.stdout)?;
    let frames = seen[0]["track"]["frames"]
        .as_array()
        .context("frames")?
        .len();
    Ok((took_ms, frames))
}

fn compare_with_python(folder: &Path, clip: &Path) -> Result<()> {
    let python = folder.join("python");
    if !python.exists() {
        run(command("python3").args(["-m", "venv"]).arg(&python))?;
        run(command(python.join("bin/pip"))
            .args(["install", "-q"])
            .args(PYTHON_PACKAGES))?;
    }
    let (home, onnx) = (packages::home()?, folder.join("body_landmarks.onnx"));
    run(built("examples/export_onnx")
        .arg(home.join("body_landmarks.tflite"))
        .arg(&onnx))?;
    run(command(python.join("bin/python"))
        .arg("testdata/vision/bench_reference.py")
        .args([&home, &onnx])
        .arg(clip))
}
