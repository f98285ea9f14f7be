//! `lessonwright-stage`: renders swings with exact truth, for demos and tests.

mod encode;

use anyhow::{Context, Result, bail};
use clap::{Args, Parser, Subcommand};
use encode::{Codec, Encoder, Encoding};
use lessonwright_stage::camera::Camera;
use lessonwright_stage::captured::Captured;
use lessonwright_stage::drill::{self, Sheets};
use lessonwright_stage::driven;
use lessonwright_stage::film::Film;
use lessonwright_stage::moments::{MomentName, moments};
use lessonwright_stage::motion::{Motion, Movement};
use lessonwright_stage::params::{SwingParams, View};
use lessonwright_stage::random::Shapes;
use lessonwright_stage::scene::{Behind, Picture};
use lessonwright_stage::stream::write_clip;
use lessonwright_stage::truth::{frame_count, truth};
use lessonwright_stage::{GOOD_SAMPLES, cutouts, figures, sound};
use rayon::prelude::*;
use std::fs;
use std::io::{self, BufReader, BufWriter, IsTerminal};
use std::path::{Path, PathBuf};

/// Renders a golfer before a virtual phone, with exact truth.
#[derive(Parser)]
#[command(version)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Render a clip, with sound, and its truth.
    Render(Render),
    /// Render single frames as PNG.
    Frames(Frames),
    /// Write the truth without rendering.
    Truth(TruthOnly),
    /// Write the sound track as WAV.
    Sound(Sound),
    /// Write many swings, both views each, as one stream of raw pictures with exact joints, to learn
    /// from.
    Stream(Stream),
    /// Write pictures around the hands, cut out from their background, with the club's exact place, as
    /// one stream to learn from.
    Cutouts(Cutouts),
    /// Write single golfers and people in any pose, cut out of their backgrounds, as one stream.
    Figures(Cutouts),
    /// Draw the figures of drills: three stills side by side (JPEG) and a moving picture (WebP) each.
    Drills(Drills),
    /// Print the parameters drawn from a seed.
    Random {
        /// The seed.
        #[arg(long)]
        seed: u64,
    },
}

/// Which swing, from where.
#[derive(Args)]
struct Scene {
    /// Parameters of the swing (JSON).
    #[arg(long, required_unless_present = "seed", conflicts_with = "seed")]
    swing: Option<PathBuf>,
    /// Draw the parameters from a seed.
    #[arg(long)]
    seed: Option<u64>,
    /// Take the motion from a capture's table of joints (CSV) instead; the swing then only says
    /// what the player wears and how it is filmed.
    #[arg(long)]
    capture: Option<PathBuf>,
    /// Take the motion of joints pushed by torques instead, drawn from the seed; the rest as with a capture.
    #[arg(long, conflicts_with = "capture")]
    driven: bool,
    /// Where the phone stands: face-on or down-the-line.
    #[arg(long, value_parser = parse_view)]
    view: View,
    /// Width of the picture, px.
    #[arg(long, default_value_t = 540)]
    width: usize,
    /// Height of the picture, px.
    #[arg(long, default_value_t = 960)]
    height: usize,
    /// Stillness before the takeaway, s, instead of the swing's own.
    #[arg(long)]
    pre_s: Option<f64>,
    /// Film after the finish, s, instead of the swing's own.
    #[arg(long)]
    post_s: Option<f64>,
    /// Frames a second, instead of the phone's own.
    #[arg(long)]
    rate_hz: Option<f64>,
    /// A club, a shutter and light of any kind, drawn from the seed.
    #[arg(long)]
    any_club: bool,
    /// A ball that starts anywhere, drawn from the seed.
    #[arg(long)]
    any_flight: bool,
    /// Draw the player with a person's shape instead of simple solids: one that networks are taught, or one
    /// kept for judging.
    #[arg(long, value_enum, default_value_t)]
    shapes: Shapes,
}

#[derive(Args)]
struct Render {
    #[command(flatten)]
    scene: Scene,
    /// The clip to write.
    #[arg(long)]
    out: PathBuf,
    /// The truth to write (JSON).
    #[arg(long)]
    truth: Option<PathBuf>,
    /// Samples of a silhouette pixel, 1 (rough) to 12; 0 for coarser shadows too.
    #[arg(long, default_value_t = GOOD_SAMPLES)]
    samples: usize,
    /// A picture (PNG) to stand behind the player instead of the swing's own place.
    #[arg(long)]
    behind: Option<PathBuf>,
    /// The ffmpeg program.
    #[arg(long, default_value = "ffmpeg")]
    ffmpeg: PathBuf,
    /// Picture codec.
    #[arg(long, value_enum, default_value = "h264")]
    codec: Codec,
    /// Ten bits a sample instead of eight.
    #[arg(long)]
    ten_bit: bool,
    /// Constant rate factor: smaller is better and larger.
    #[arg(long, default_value_t = 17)]
    crf: u32,
    /// Frames a second written into the file, for slow motion; such a clip has no sound.
    #[arg(long)]
    play_rate: Option<f64>,
    /// Leave the sound out.
    #[arg(long)]
    mute: bool,
}

#[derive(Args)]
struct Frames {
    #[command(flatten)]
    scene: Scene,
    /// Moments by name (`top`, `lead_arm_level_down`, … or `all`) or times in s, with commas.
    #[arg(long, value_delimiter = ',', required = true)]
    at: Vec<String>,
    /// Folder for the PNGs.
    #[arg(long)]
    out: PathBuf,
    /// Samples of a silhouette pixel, 1 (rough) to 12; 0 for coarser shadows too.
    #[arg(long, default_value_t = GOOD_SAMPLES)]
    samples: usize,
}

#[derive(Args)]
struct TruthOnly {
    #[command(flatten)]
    scene: Scene,
    /// File to write; without it, print.
    #[arg(long)]
    out: Option<PathBuf>,
    /// Leave the frames out.
    #[arg(long)]
    summary: bool,
}

#[derive(Args)]
struct Sound {
    #[command(flatten)]
    scene: Scene,
    /// The WAV to write.
    #[arg(long)]
    out: PathBuf,
}

#[derive(Args)]
struct Stream {
    /// The first seed.
    #[arg(long)]
    seed: u64,
    /// How many swings.
    #[arg(long)]
    count: u64,
    /// From one seed to the next.
    #[arg(long, default_value_t = 1)]
    step: u64,
    /// What the swings are drawn from.
    #[arg(long, value_enum)]
    family: Family,
    /// Table of joints (CSV), for captured swings.
    #[arg(long, required_if_eq("family", "captured"))]
    capture: Option<PathBuf>,
    /// Width of the pictures, px.
    #[arg(long, default_value_t = 208)]
    width: usize,
    /// Height of the pictures, px.
    #[arg(long, default_value_t = 368)]
    height: usize,
    /// Leave the pictures out.
    #[arg(long)]
    points_only: bool,
    /// Draw the players with people's shapes instead of simple solids: those that networks are taught, or those
    /// kept for judging.
    #[arg(long, value_enum, default_value_t)]
    shapes: Shapes,
}

#[derive(Args)]
struct Cutouts {
    /// The first seed.
    #[arg(long)]
    seed: u64,
    /// How many swings.
    #[arg(long)]
    count: u64,
    /// From one seed to the next.
    #[arg(long, default_value_t = 1)]
    step: u64,
    /// Pictures of a swing.
    #[arg(long, default_value_t = 8)]
    each: usize,
}

#[derive(Args)]
struct Drills {
    /// What the figures do (TOML).
    #[arg(long)]
    sheets: PathBuf,
    /// Folder for the pictures.
    #[arg(long)]
    out: PathBuf,
    /// Only these drills, by key, with commas.
    #[arg(long, value_delimiter = ',')]
    only: Vec<String>,
    /// Leave the moving pictures out.
    #[arg(long)]
    stills_only: bool,
    /// Side of a picture, px.
    #[arg(long, default_value_t = 280)]
    side: usize,
    /// Samples of a silhouette pixel, 1 (rough) to 12.
    #[arg(long, default_value_t = GOOD_SAMPLES)]
    samples: usize,
    /// The ffmpeg program.
    #[arg(long, default_value = "ffmpeg")]
    ffmpeg: PathBuf,
}

/// What swings are drawn from.
#[derive(Clone, Copy, clap::ValueEnum)]
enum Family {
    /// As golfers differ.
    Random,
    /// Wider, and every parameter by itself.
    Varied,
    /// The capture's motion; body, clothes, place and cameras as in `varied`.
    Captured,
}

fn main() -> Result<()> {
    match Cli::parse().command {
        Command::Render(args) => render(&args),
        Command::Frames(args) => frames(&args),
        Command::Truth(args) => truth_only(&args),
        Command::Sound(args) => sound_only(&args),
        Command::Stream(args) => stream(&args),
        Command::Cutouts(args) => pictures(&args, cutouts::write_header, cutouts::write_swing),
        Command::Figures(args) => pictures(&args, figures::write_header, figures::write_person),
        Command::Drills(args) => drills(&args),
        Command::Random { seed } => {
            println!(
                "{}",
                serde_json::to_string_pretty(&SwingParams::random(seed))?
            );
            Ok(())
        }
    }
}

fn render(args: &Render) -> Result<()> {
    let stage = args.scene.load()?;
    let [w, h] = stage.size_px;
    if w % 2 != 0 || h % 2 != 0 {
        bail!("the picture is {w}×{h}, but the codec needs even sides; change --width or --height");
    }
    let picture = args.behind.as_deref().map(read_png).transpose()?;
    let behind = picture.as_ref().map_or(Behind::Scene, Behind::Picture);
    let film = Film::before(
        &stage.params,
        stage.motion.as_ref(),
        stage.camera(),
        args.samples,
        &behind,
    );
    let count = frame_count(&stage.params, stage.motion.as_ref());
    let rate_hz = stage.params.phone.rate_hz;
    let wav = (!args.mute && args.play_rate.is_none()).then(|| {
        let length_s = count as f64 / rate_hz;
        let track = sound::sound_track(
            &stage.params,
            stage.motion.as_ref(),
            film.camera(),
            length_s,
        );
        sound::wav_bytes(&track)
    });
    let encoding = Encoding {
        ffmpeg: args.ffmpeg.clone(),
        codec: args.codec,
        ten_bit: args.ten_bit,
        crf: args.crf,
        rate_hz: args.play_rate.unwrap_or(rate_hz),
        size_px: stage.size_px,
    };
    let mut encoder = Encoder::start(&encoding, wav.as_deref(), &args.out)?;
    let started = std::time::Instant::now();
    // As many frames at once as there are threads, within reason for memory.
    let batch = rayon::current_num_threads().clamp(1, 48);
    for first in (0..count).step_by(batch) {
        let last = (first + batch).min(count);
        let frames: Vec<Vec<u8>> = (first..last)
            .into_par_iter()
            .map(|i| film.frame(i as f64 / rate_hz, i))
            .collect();
        for frame in &frames {
            encoder.write(frame)?;
        }
        if io::stderr().is_terminal() {
            eprint!("\r{}: {last} of {count} frames", args.out.display());
        }
    }
    encoder.finish()?;
    let each_ms = started.elapsed().as_secs_f64() * 1000.0 / count as f64;
    eprintln!(
        "\r{}: {count} frames, {each_ms:.0} ms each",
        args.out.display()
    );
    if let Some(file) = &args.truth {
        let truth = truth(
            &stage.params,
            stage.motion.as_ref(),
            film.camera(),
            stage.view,
            count,
        );
        write(file, serde_json::to_string(&truth)?.as_bytes())?;
    }
    Ok(())
}

fn drills(args: &Drills) -> Result<()> {
    let text = fs::read_to_string(&args.sheets)
        .with_context(|| format!("reading the sheets {}", args.sheets.display()))?;
    let sheets =
        Sheets::parse(&text).with_context(|| format!("reading {}", args.sheets.display()))?;
    fs::create_dir_all(&args.out)?;
    let size_px = [args.side, args.side];
    let wanted = |key: &str| args.only.is_empty() || args.only.iter().any(|only| only == key);
    let sheets: Vec<_> = sheets.iter().filter(|(key, _)| wanted(key)).collect();
    if sheets.is_empty() {
        bail!(
            "no drill of that key in {}: correct --only",
            args.sheets.display()
        );
    }
    sheets.par_iter().try_for_each(|(key, sheet)| {
        let stills = drill::stills(sheet, size_px, args.samples);
        let strip = side_by_side(&stills, size_px);
        let strip_px = [args.side * stills.len(), args.side];
        encode::still(
            &args.ffmpeg,
            &strip,
            strip_px,
            &args.out.join(format!("{key}.jpg")),
        )?;
        if !args.stills_only {
            let frames = drill::moving(sheet, size_px, args.samples).concat();
            let out = args.out.join(format!("{key}.webp"));
            encode::moving(&args.ffmpeg, &frames, size_px, drill::RATE_HZ, &out)?;
        }
        eprintln!("{key}");
        Ok(())
    })
}

/// Pictures of one size in one row.
fn side_by_side(pictures: &[Vec<u8>], [w, h]: [usize; 2]) -> Vec<u8> {
    (0..h)
        .flat_map(|y| {
            pictures
                .iter()
                .flat_map(move |picture| &picture[3 * w * y..3 * w * (y + 1)])
        })
        .copied()
        .collect()
}

fn stream(args: &Stream) -> Result<()> {
    let mut out = BufWriter::new(io::stdout().lock());
    let capture = args.capture.as_ref().map(|file| {
        fs::read_to_string(file).with_context(|| format!("reading the capture {}", file.display()))
    });
    let capture = capture.transpose()?;
    for seed in (0..args.count).map(|i| args.seed + i * args.step) {
        let params = match args.family {
            Family::Random => SwingParams::random(seed),
            Family::Varied | Family::Captured => SwingParams::varied(seed),
        }
        .with_shape(args.shapes);
        params.check()?;
        let (params, motion): (_, Box<dyn Movement>) = match (args.family, &capture) {
            (Family::Captured, Some(text)) => {
                let (motion, sized) = Captured::read(text, &params)?;
                (sized, Box::new(motion))
            }
            _ => {
                let motion = Motion::new(&params);
                (params, Box::new(motion))
            }
        };
        for view in [View::FaceOn, View::DownTheLine] {
            let size = [args.width, args.height];
            let pictures = !args.points_only;
            write_clip(&mut out, &params, motion.as_ref(), view, size, pictures)?;
        }
    }
    Ok(())
}

/// Where a stream goes.
type Out = BufWriter<io::StdoutLock<'static>>;

/// One stream of a header and so many pictures of each seed.
fn pictures(
    args: &Cutouts,
    write_header: fn(&mut Out) -> io::Result<()>,
    write_one: fn(&mut Out, u64, usize) -> io::Result<()>,
) -> Result<()> {
    let mut out = BufWriter::new(io::stdout().lock());
    write_header(&mut out)?;
    for seed in (0..args.count).map(|i| args.seed + i * args.step) {
        write_one(&mut out, seed, args.each)?;
    }
    Ok(())
}

fn frames(args: &Frames) -> Result<()> {
    let stage = args.scene.load()?;
    let film = Film::new(
        &stage.params,
        stage.motion.as_ref(),
        stage.view,
        stage.size_px,
        args.samples,
    );
    fs::create_dir_all(&args.out)
        .with_context(|| format!("making the folder {}", args.out.display()))?;
    for (name, time_s) in stage.instants(&args.at)? {
        let number = (time_s * stage.params.phone.rate_hz).round().max(0.0) as usize;
        let image = film.frame(time_s, number);
        write_png(&args.out.join(format!("{name}.png")), stage.size_px, &image)?;
    }
    Ok(())
}

fn truth_only(args: &TruthOnly) -> Result<()> {
    let stage = args.scene.load()?;
    let count = if args.summary {
        0
    } else {
        frame_count(&stage.params, stage.motion.as_ref())
    };
    let truth = truth(
        &stage.params,
        stage.motion.as_ref(),
        &stage.camera(),
        stage.view,
        count,
    );
    match &args.out {
        Some(file) => write(file, serde_json::to_string(&truth)?.as_bytes()),
        None => {
            println!("{}", serde_json::to_string_pretty(&truth)?);
            Ok(())
        }
    }
}

fn sound_only(args: &Sound) -> Result<()> {
    let stage = args.scene.load()?;
    let count = frame_count(&stage.params, stage.motion.as_ref());
    let length_s = count as f64 / stage.params.phone.rate_hz;
    let track = sound::sound_track(
        &stage.params,
        stage.motion.as_ref(),
        &stage.camera(),
        length_s,
    );
    write(&args.out, &sound::wav_bytes(&track))
}

struct Stage {
    params: SwingParams,
    motion: Box<dyn Movement>,
    view: View,
    size_px: [usize; 2],
}

impl Scene {
    fn load(&self) -> Result<Stage> {
        let mut params = match (&self.swing, self.seed) {
            (Some(file), _) => {
                let text = fs::read_to_string(file)
                    .with_context(|| format!("reading the swing {}", file.display()))?;
                serde_json::from_str(&text)
                    .with_context(|| format!("the swing {} is not as expected", file.display()))?
            }
            (None, Some(seed)) => SwingParams::random(seed),
            (None, None) => bail!("name a swing with --swing or --seed"),
        };
        if let Some(seconds) = self.pre_s {
            params.before_s = seconds;
        }
        if let Some(seconds) = self.post_s {
            params.after_s = seconds;
        }
        if self.any_club {
            params = params.with_any_club();
        }
        if self.any_flight {
            params = params.with_any_flight();
        }
        if self.shapes != Shapes::None {
            params = params.with_shape(self.shapes);
        }
        if let Some(rate_hz) = self.rate_hz {
            params.phone = params.phone.clone().at_rate(rate_hz);
        }
        params.check()?;
        if self.width < 16 || self.height < 16 {
            bail!(
                "the picture is {}×{}; it needs 16 px a side",
                self.width,
                self.height
            );
        }
        let motion: Box<dyn Movement> = match &self.capture {
            Some(file) => {
                let text = fs::read_to_string(file).with_context(|| {
                    format!(
                        "reading the capture {}; name the joints table",
                        file.display()
                    )
                })?;
                let (motion, sized) = Captured::read(&text, &params)
                    .with_context(|| format!("using the capture {}", file.display()))?;
                params = sized;
                Box::new(motion)
            }
            None if self.driven => {
                let (motion, sized) = driven::swing(&params);
                params = sized;
                Box::new(motion)
            }
            None => Box::new(Motion::new(&params)),
        };
        Ok(Stage {
            motion,
            params,
            view: self.view,
            size_px: [self.width, self.height],
        })
    }
}

impl Stage {
    fn camera(&self) -> Camera {
        let place = self.params.place(self.view);
        let reach_m = self.motion.ball().z;
        Camera::new(place, self.view, self.params.hand, reach_m, self.size_px)
    }

    /// Named moments and times as (file name, clip time in s).
    fn instants(&self, wanted: &[String]) -> Result<Vec<(String, f64)>> {
        let moments = moments(self.motion.as_ref());
        let clip_time = |t: f64| t + self.params.before_s;
        let mut instants = Vec::new();
        for text in wanted {
            if text == "all" {
                instants.extend(moments.map(|(name, t)| (name.key().to_owned(), clip_time(t))));
            } else if let Some(&(name, t)) = moments.iter().find(|(name, _)| name.key() == text) {
                instants.push((name.key().to_owned(), clip_time(t)));
            } else if let Ok(time_s) = text.parse::<f64>() {
                instants.push((format!("t{time_s:.4}"), time_s));
            } else {
                let names = MomentName::ALL.map(MomentName::key).join(", ");
                bail!("`{text}` is neither a moment ({names}, all) nor a time in seconds");
            }
        }
        Ok(instants)
    }
}

fn parse_view(text: &str) -> Result<View, String> {
    match text {
        "face-on" => Ok(View::FaceOn),
        "down-the-line" => Ok(View::DownTheLine),
        _ => Err("expected face-on or down-the-line".to_owned()),
    }
}

fn write(file: &Path, bytes: &[u8]) -> Result<()> {
    fs::write(file, bytes).with_context(|| format!("writing {}", file.display()))
}

fn read_png(file: &Path) -> Result<Picture> {
    let reading = || format!("reading the picture {}", file.display());
    let mut decoder =
        png::Decoder::new(BufReader::new(fs::File::open(file).with_context(reading)?));
    decoder.set_transformations(png::Transformations::EXPAND | png::Transformations::STRIP_16);
    let mut reader = decoder.read_info().with_context(reading)?;
    let size = reader.output_buffer_size().with_context(reading)?;
    let mut rgb = vec![0; size];
    let info = reader.next_frame(&mut rgb).with_context(reading)?;
    if info.color_type != png::ColorType::Rgb {
        bail!(
            "{}: a picture of {:?}; save it as colour without transparency",
            file.display(),
            info.color_type
        );
    }
    rgb.truncate(info.buffer_size());
    Ok(Picture {
        size_px: [info.width as usize, info.height as usize],
        rgb,
    })
}

fn write_png(file: &Path, [w, h]: [usize; 2], rgb: &[u8]) -> Result<()> {
    let out = fs::File::create(file).with_context(|| format!("creating {}", file.display()))?;
    let mut encoder = png::Encoder::new(BufWriter::new(out), w as u32, h as u32);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    let mut writer = encoder.write_header()?;
    writer
        .write_image_data(rgb)
        .with_context(|| format!("writing {}", file.display()))
}
