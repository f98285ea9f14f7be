//! Raw frames and a sound track into a clip, by the system's ffmpeg as a child process.

use anyhow::{Context, Result, bail};
use clap::ValueEnum;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// How a clip is encoded.
#[derive(Clone, Debug)]
pub struct Encoding {
    /// The ffmpeg program.
    pub ffmpeg: PathBuf,
    /// Picture codec.
    pub codec: Codec,
    /// Ten bits a sample instead of eight.
    pub ten_bit: bool,
    /// Constant rate factor: smaller is better and larger.
    pub crf: u32,
    /// Frames a second written into the file; differs from the capture rate in slow motion.
    pub rate_hz: f64,
    /// Width and height, px.
    pub size_px: [usize; 2],
}

/// Picture codec.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Codec {
    /// H.264, by x264.
    H264,
    /// HEVC, by x265.
    Hevc,
}

/// A clip being written.
pub struct Encoder {
    child: Child,
    sound_file: Option<PathBuf>,
    out: PathBuf,
}

impl Encoder {
    /// Starts ffmpeg. `wav` is a sound track that goes with the pictures.
    pub fn start(encoding: &Encoding, wav: Option<&[u8]>, out: &Path) -> Result<Encoder> {
        let sound_file = match wav {
            Some(bytes) => {
                let file = out.with_extension("sound-in-progress.wav");
                std::fs::write(&file, bytes)
                    .with_context(|| format!("writing the sound to {}", file.display()))?;
                Some(file)
            }
            None => None,
        };
        let [w, h] = encoding.size_px;
        let mut command = Command::new(&encoding.ffmpeg);
        command
            .args(["-nostdin", "-y", "-v", "error"])
            .args(["-f", "rawvideo", "-pix_fmt", "rgb24"])
            .args([
                "-s",
                &format!("{w}x{h}"),
                "-r",
                &encoding.rate_hz.to_string(),
            ])
            .args(["-i", "pipe:0"]);
        if let Some(file) = &sound_file {
            // At 96 kbit/s the codec smears the strike up to 2.8 ms forward (measured), at 160 not.
            command
                .arg("-i")
                .arg(file)
                .args(["-c:a", "aac", "-b:a", "160k"]);
        }
        // A fixed number of threads keeps the bytes the same on every machine.
        match encoding.codec {
            Codec::H264 => command.args(["-c:v", "libx264", "-preset", "medium", "-threads", "4"]),
            Codec::Hevc => command.args([
                "-c:v",
                "libx265",
                "-preset",
                "medium",
                "-tag:v",
                "hvc1",
                "-x265-params",
                "log-level=error:pools=4:frame-threads=1",
            ]),
        };
        let pixels = if encoding.ten_bit {
            "yuv420p10le"
        } else {
            "yuv420p"
        };
        command
            .args(["-crf", &encoding.crf.to_string()])
            .args(["-vf", "scale=out_color_matrix=bt709:out_range=tv"])
            .args(["-pix_fmt", pixels])
            .args(["-colorspace", "bt709", "-color_primaries", "bt709"])
            .args(["-color_trc", "bt709", "-color_range", "tv"])
            .args([
                "-fflags",
                "+bitexact",
                "-flags:v",
                "+bitexact",
                "-flags:a",
                "+bitexact",
            ])
            .args(["-map_metadata", "-1", "-movflags", "+faststart"])
            .arg(out)
            .stdin(Stdio::piped());
        let child = command.spawn().with_context(|| {
            format!(
                "starting `{}`; install ffmpeg or name it with --ffmpeg",
                encoding.ffmpeg.display()
            )
        })?;
        Ok(Encoder {
            child,
            sound_file,
            out: out.to_owned(),
        })
    }

    /// The next frame, RGB.
    pub fn write(&mut self, frame: &[u8]) -> Result<()> {
        let pipe = self
            .child
            .stdin
            .as_mut()
            .context("ffmpeg's input is open")?;
        pipe.write_all(frame).with_context(|| {
            format!(
                "ffmpeg stopped while encoding {}; see its message above",
                self.out.display()
            )
        })
    }

    /// Waits until the file is complete.
    pub fn finish(mut self) -> Result<()> {
        drop(self.child.stdin.take());
        let status = self.child.wait().context("waiting for ffmpeg")?;
        if let Some(file) = &self.sound_file {
            std::fs::remove_file(file).with_context(|| format!("removing {}", file.display()))?;
        }
        if !status.success() {
            bail!(
                "ffmpeg failed ({status}) on {}; see its message above",
                self.out.display()
            );
        }
        Ok(())
    }
}

/// Writes a picture as JPEG.
pub fn still(ffmpeg: &Path, rgb: &[u8], size_px: [usize; 2], out: &Path) -> Result<()> {
    pictures(
        ffmpeg,
        rgb,
        size_px,
        1.0,
        &["-frames:v", "1", "-q:v", "4"],
        out,
    )
}

/// Writes frames as a moving picture (WebP) that begins again at its end.
pub fn moving(
    ffmpeg: &Path,
    rgb: &[u8],
    size_px: [usize; 2],
    rate_hz: f64,
    out: &Path,
) -> Result<()> {
    let codec = [
        "-c:v",
        "libwebp_anim",
        "-loop",
        "0",
        "-quality",
        "55",
        "-compression_level",
        "6",
    ];
    pictures(ffmpeg, rgb, size_px, rate_hz, &codec, out)
}

fn pictures(
    ffmpeg: &Path,
    rgb: &[u8],
    [w, h]: [usize; 2],
    rate_hz: f64,
    how: &[&str],
    out: &Path,
) -> Result<()> {
    let mut child = Command::new(ffmpeg)
        .args([
            "-nostdin", "-y", "-v", "error", "-f", "rawvideo", "-pix_fmt", "rgb24",
        ])
        .args([
            "-s",
            &format!("{w}x{h}"),
            "-r",
            &rate_hz.to_string(),
            "-i",
            "-",
        ])
        .args(how)
        .args(["-fflags", "+bitexact", "-flags:v", "+bitexact"])
        .arg(out)
        .stdin(Stdio::piped())
        .spawn()
        .with_context(|| format!("starting {}: install ffmpeg", ffmpeg.display()))?;
    let mut pipe = child.stdin.take().context("ffmpeg takes pictures")?;
    let written = pipe.write_all(rgb);
    drop(pipe);
    let status = child.wait()?;
    if !status.success() {
        bail!("ffmpeg could not write {}", out.display());
    }
    written.context("handing pictures to ffmpeg")
}
