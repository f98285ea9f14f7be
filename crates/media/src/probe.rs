//! What a file is, before anybody looks at its pictures: ffprobe's answers, checked and refused
//! where too big, as [`Clip`].
//!
//! Frame times come from the packets of the video track: presentation times, sorted, less those
//! that an edit list hides. That reads the file once without decoding it, and gives the very times
//! the decoder puts on its frames.

use crate::child::{Limits, Stopped, Worker};
use crate::error::{MediaError, clip_name, plain_reason};
use crate::orientation::Orientation;
use crate::tone::WideTone;
use crate::tools::Tools;
use lessonwright_model::{Cancel, ClipFacts, RateSource};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::process::Command;

/// A clip that was probed and can be decoded. Written down and read back, it need not be probed again
/// as long as its file's bytes are the same.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Clip {
    /// The file.
    pub path: PathBuf,
    /// What it is.
    pub facts: ClipFacts,
    /// Things the professional should know about this file, in plain words.
    pub warnings: Vec<String>,
    pub(crate) track: VideoTrack,
    /// Number of the sound track in the file.
    pub(crate) sound_track: Option<u32>,
}

/// What decoding needs to know of the video track.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct VideoTrack {
    /// Its number in the file.
    pub index: u32,
    pub time_base: TimeBase,
    /// Presentation time of each shown frame, ticks, rising.
    pub ticks: Vec<i64>,
    /// Presentation times of the frames that decoding can start at, ticks, rising.
    pub key_ticks: Vec<i64>,
    pub orientation: Orientation,
    /// The colour matrix to assume where the file names none, as ffmpeg calls it.
    pub assumed_matrix: Option<String>,
    pub wide_tone: Option<WideTone>,
    /// Stored size with square pixels, before turning upright, px.
    pub stored_width_px: u32,
    pub stored_height_px: u32,
}

/// One tick, as a fraction of a second.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct TimeBase {
    pub numerator: u32,
    pub denominator: u32,
}

impl TimeBase {
    pub fn seconds(self, ticks: i64) -> f64 {
        ticks as f64 * f64::from(self.numerator) / f64::from(self.denominator)
    }
}

/// Most pixels of a picture. 4096 × 3072 holds every 4K shape, also 4:3; a frame of that size
/// takes 19 MB at 8 bits and the decoder keeps several.
pub const MOST_PIXELS: u64 = 4096 * 3072;
/// Longest side of a picture, px: an 8K picture, or a strip that is no phone's.
const LONGEST_SIDE_PX: u32 = 8192;
/// Longest clip, s of the file's own clock.
pub const LONGEST_CLIP_S: f64 = 900.0;
/// Most frames: the longest clip at 240 frames/s.
const MOST_FRAMES: usize = 900 * 240;
/// Most bytes of ffprobe's answer about the tracks; a phone's file takes under 20 kB.
const MOST_ANSWER_BYTES: usize = 4 << 20;
/// Most bytes of the list of packets, at 32 bytes each, hidden ones included.
const MOST_LIST_BYTES: usize = 2 * MOST_FRAMES * 32;
/// The kinds of container that are opened, by ffmpeg's names. Playlists and scripts, which could
/// name other files of this machine, are not among them.
const CONTAINERS: &str = "mov,matroska,webm";
/// Reading the packets of a 2 GB file from a slow disk (30 MB/s) takes 70 s.
const PROBE_LIMITS: Limits = Limits {
    address_space_bytes: 3 << 29,
    processor_s: 60,
    wait_s: 120,
    written_bytes: 0,
};

/// Reads what the clip at `path` is. `stated_capture_rate_hz` is what the user knows of the camera's
/// rate in a slow-motion clip; it overrides the file.
///
/// # Errors
/// [`MediaError`] for a file that is missing, empty, no video, damaged beyond reading, larger than
/// [`MOST_PIXELS`] or longer than [`LONGEST_CLIP_S`]; for a stated rate that is not positive; and
/// on cancel.
pub fn probe(
    tools: &Tools,
    path: &Path,
    stated_capture_rate_hz: Option<f64>,
    cancel: &Cancel,
) -> Result<Clip, MediaError> {
    let clip = clip_name(path);
    check_stated_rate(&clip, stated_capture_rate_hz)?;
    check_readable(&clip, path)?;
    let answer = describe(tools, path, cancel)?;
    let video = answer.video(&clip)?;
    refuse_if_too_big(&clip, video, &answer.format)?;
    let time_base = parse_ratio(&video.time_base)
        .filter(|ratio| ratio.0 > 0 && ratio.1 > 0)
        .map(|(numerator, denominator)| TimeBase {
            numerator,
            denominator,
        })
        .ok_or_else(|| not_video(&clip, "its clock is not readable; export it again as MP4"))?;
    let packets = list_packets(tools, path, video.index, cancel)?;

    let mut warnings = Vec::new();
    let orientation = video.orientation(&mut warnings);
    let (stored_width_px, stored_height_px) = video.square_pixel_size();
    let (width_px, height_px) = match orientation.swaps_sides() {
        true => (stored_height_px, stored_width_px),
        false => (stored_width_px, stored_height_px),
    };
    let frame_times_s: Vec<f64> = packets
        .ticks
        .iter()
        .map(|&t| time_base.seconds(t - packets.ticks[0]))
        .collect();
    let pace = Pace::of(&frame_times_s);
    let tags = [&video.tags, &answer.format.tags];
    let (capture_rate_hz, capture_rate_source) =
        capture_rate(pace.rate_hz, stated_capture_rate_hz, tagged_rate(tags));
    let duration_s = frame_times_s.last().copied().unwrap_or(0.0) + 1.0 / pace.rate_hz;
    warn_if_cut_short(video, duration_s, &mut warnings);
    let sound_track = answer.first_track("audio").map(|track| track.index);

    Ok(Clip {
        path: path.to_owned(),
        facts: ClipFacts {
            name: clip,
            codec: video.codec_name.clone(),
            bit_depth: video.bit_depth(),
            width_px,
            height_px,
            rotation_deg: orientation.rotation_deg,
            frame_times_s,
            rate_hz: pace.rate_hz,
            variable_rate: pace.variable,
            capture_rate_hz,
            capture_rate_source,
            duration_s,
            has_sound: sound_track.is_some(),
        },
        warnings,
        track: VideoTrack {
            index: video.index,
            time_base,
            ticks: packets.ticks,
            key_ticks: packets.key_ticks,
            orientation,
            assumed_matrix: video.assumed_matrix().map(str::to_owned),
            wide_tone: video
                .color_transfer
                .as_deref()
                .and_then(WideTone::from_transfer),
            stored_width_px,
            stored_height_px,
        },
        sound_track,
    })
}

/// Options that every reading of an untrusted file starts with; the input goes in last. The `file:`
/// prefix keeps a name that holds a colon or begins with a dash from being taken for anything else.
pub(crate) fn guarded_input(path: &Path, before_input: &[String]) -> Vec<OsString> {
    guarded_input_of(CONTAINERS, path, before_input)
}

/// The same for other kinds of container, by ffmpeg's names.
pub(crate) fn guarded_input_of(
    containers: &str,
    path: &Path,
    before_input: &[String],
) -> Vec<OsString> {
    let mut input = OsString::from("file:");
    input.push(path);
    let guards = [
        "-protocol_whitelist",
        "file,pipe",
        "-format_whitelist",
        containers,
    ];
    let options = guards.map(OsString::from).into_iter();
    let options = options.chain(before_input.iter().map(OsString::from));
    options.chain([OsString::from("-i"), input]).collect()
}

fn check_stated_rate(clip: &str, stated: Option<f64>) -> Result<(), MediaError> {
    match stated {
        Some(rate) if !(rate.is_finite() && rate > 0.0) => Err(MediaError::BadRequest {
            clip: clip.to_owned(),
            problem: format!(
                "a capture rate of {rate} frames/s makes no sense; state the camera's setting, \
                 such as 240"
            ),
        }),
        _ => Ok(()),
    }
}

fn check_readable(clip: &str, path: &Path) -> Result<(), MediaError> {
    let cannot_open = |source| MediaError::CannotOpen {
        clip: clip.to_owned(),
        source,
    };
    let file = File::open(path).map_err(cannot_open)?;
    if !file.metadata().map_err(cannot_open)?.is_file() {
        return Err(cannot_open(io::Error::other("it is not a plain file")));
    }
    let mut start = Vec::new();
    file.take(8).read_to_end(&mut start).map_err(cannot_open)?;
    if start.is_empty() {
        return Err(MediaError::Empty {
            clip: clip.to_owned(),
        });
    }
    if !is_container_start(&start) {
        let reason = "its contents are no MP4, MOV or WebM; choose the clip itself, or export it \
                      as one of these";
        return Err(not_video(clip, reason));
    }
    Ok(())
}

/// True for the first bytes of MP4 and MOV (a box's size, then its type: ISO/IEC 14496-12 4.2 and
/// QuickTime File Format) and of Matroska and WebM (the EBML mark, RFC 8794 8.1).
fn is_container_start(start: &[u8]) -> bool {
    const FIRST_BOXES: [&[u8]; 6] = [b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip"];
    const EBML: &[u8] = &[0x1a, 0x45, 0xdf, 0xa3];
    start.starts_with(EBML)
        || FIRST_BOXES
            .iter()
            .any(|kind| start.get(4..8) == Some(*kind))
}

fn not_video(clip: &str, reason: impl Into<String>) -> MediaError {
    MediaError::NotVideo {
        clip: clip.to_owned(),
        reason: reason.into(),
    }
}

/// ffprobe's description of a file, as far as it is used.
#[derive(Deserialize)]
struct Answer {
    #[serde(default)]
    streams: Vec<Track>,
    #[serde(default)]
    format: Format,
}

#[derive(Deserialize, Default)]
struct Format {
    duration: Option<String>,
    #[serde(default)]
    tags: BTreeMap<String, String>,
}

#[derive(Deserialize)]
struct Track {
    index: u32,
    #[serde(default)]
    codec_type: String,
    #[serde(default)]
    codec_name: String,
    #[serde(default)]
    width: u32,
    #[serde(default)]
    height: u32,
    #[serde(default)]
    pix_fmt: String,
    sample_aspect_ratio: Option<String>,
    color_space: Option<String>,
    color_transfer: Option<String>,
    #[serde(default)]
    time_base: String,
    duration: Option<String>,
    #[serde(default)]
    disposition: BTreeMap<String, i32>,
    #[serde(default)]
    tags: BTreeMap<String, String>,
    #[serde(default)]
    side_data_list: Vec<SideData>,
}

#[derive(Deserialize)]
struct SideData {
    displaymatrix: Option<String>,
}

fn describe(tools: &Tools, path: &Path, cancel: &Cancel) -> Result<Answer, MediaError> {
    let mut command = Command::new(&tools.ffprobe);
    command
        .args(["-v", "error", "-of", "json", "-show_entries"])
        .arg(
            "format=duration:format_tags\
             :stream=index,codec_type,codec_name,width,height,pix_fmt,sample_aspect_ratio,\
             color_space,color_transfer,time_base,duration\
             :stream_disposition=attached_pic:stream_tags:stream_side_data=displaymatrix",
        )
        .args(guarded_input(path, &[]));
    let answer = run(
        tools,
        command,
        path,
        "reading what it is",
        MOST_ANSWER_BYTES,
        cancel,
    )?;
    serde_json::from_slice(&answer).map_err(|error| {
        not_video(
            &clip_name(path),
            format!("ffprobe's answer makes no sense ({error}); export it again as MP4"),
        )
    })
}

/// What the file as a whole is tagged with.
pub(crate) fn describe_tags(
    tools: &Tools,
    path: &Path,
    cancel: &Cancel,
) -> Result<BTreeMap<String, String>, MediaError> {
    Ok(describe(tools, path, cancel)?.format.tags)
}

/// Runs a prober to its end.
fn run(
    tools: &Tools,
    command: Command,
    path: &Path,
    doing: &'static str,
    most_bytes: usize,
    cancel: &Cancel,
) -> Result<Vec<u8>, MediaError> {
    let clip = clip_name(path);
    let mut worker = Worker::start(command, PROBE_LIMITS, cancel, |_| true)
        .map_err(|source| start_error(&tools.ffprobe, &clip, doing, source))?;
    let bytes = worker.read_all(most_bytes);
    if let Some(why) = worker.stopped() {
        return Err(stopped_error(&clip, doing, why, PROBE_LIMITS.wait_s));
    }
    let system = |source| MediaError::System {
        clip: clip.clone(),
        doing,
        source,
    };
    let bytes = bytes.map_err(|source| match source.kind() {
        io::ErrorKind::FileTooLarge => MediaError::TooBig {
            clip: clip.clone(),
            what: format!(
                "it lists more frames than a clip of {LONGEST_CLIP_S} s can have; cut the swing \
                 out of it and use that"
            ),
        },
        _ => system(source),
    })?;
    let (status, messages) = worker.finish().map_err(system)?;
    match worker.stopped() {
        Some(why) => Err(stopped_error(&clip, doing, why, PROBE_LIMITS.wait_s)),
        None if status.success() => Ok(bytes),
        None => Err(not_video(&clip, plain_reason(&messages))),
    }
}

/// A program that can't be started is missing, or the system has no room for it.
pub(crate) fn start_error(
    tool: &Path,
    clip: &str,
    doing: &'static str,
    source: io::Error,
) -> MediaError {
    match source.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::PermissionDenied => MediaError::ToolMissing {
            tool: tool.to_owned(),
            source,
        },
        _ => MediaError::System {
            clip: clip.to_owned(),
            doing,
            source,
        },
    }
}

pub(crate) fn stopped_error(
    clip: &str,
    doing: &'static str,
    why: Stopped,
    limit_s: u64,
) -> MediaError {
    let clip = clip.to_owned();
    match why {
        Stopped::Cancelled => MediaError::Cancelled { clip },
        Stopped::TimedOut => MediaError::TimedOut {
            clip,
            doing,
            limit_s,
        },
    }
}

impl Answer {
    fn first_track(&self, kind: &str) -> Option<&Track> {
        // A cover picture counts as a video track and is none.
        let is_cover = |track: &Track| track.disposition.get("attached_pic") == Some(&1);
        let mut tracks = self.streams.iter();
        tracks.find(|track| {
            track.codec_type == kind && !track.codec_name.is_empty() && !is_cover(track)
        })
    }

    fn video(&self, clip: &str) -> Result<&Track, MediaError> {
        let track = self
            .first_track("video")
            .ok_or_else(|| not_video(clip, "it has no video track; choose the clip itself"))?;
        if track.width == 0 || track.height == 0 {
            let reason = "its pictures have no size, so it is damaged; copy it again";
            return Err(not_video(clip, reason));
        }
        Ok(track)
    }
}

fn refuse_if_too_big(clip: &str, video: &Track, format: &Format) -> Result<(), MediaError> {
    let too_big = |what| {
        Err(MediaError::TooBig {
            clip: clip.to_owned(),
            what,
        })
    };
    let (width, height) = video.square_pixel_size();
    if width.max(height) > LONGEST_SIDE_PX
        || u64::from(width) * u64::from(height) > MOST_PIXELS
        || u64::from(video.width) * u64::from(video.height) > MOST_PIXELS
    {
        return too_big(format!(
            "its pictures are {width} × {height} pixels; up to 4K can be read: export it as 4K or \
             smaller"
        ));
    }
    let claimed = video.duration.as_ref().or(format.duration.as_ref());
    match claimed.and_then(|text| text.parse::<f64>().ok()) {
        Some(length_s) if length_s > LONGEST_CLIP_S => too_big(format!(
            "it is {:.0} minutes long; up to {:.0} can be read: cut the swing out of it and use \
             that",
            length_s / 60.0,
            LONGEST_CLIP_S / 60.0
        )),
        _ => Ok(()),
    }
}

impl Track {
    /// Size with square pixels, before turning upright.
    fn square_pixel_size(&self) -> (u32, u32) {
        let shape = self.sample_aspect_ratio.as_deref().and_then(parse_ratio);
        let width = match shape {
            Some((wide, high)) if wide > 0 && high > 0 && wide != high => {
                (f64::from(self.width) * f64::from(wide) / f64::from(high)).round() as u32
            }
            _ => self.width,
        };
        (width.max(1), self.height)
    }

    /// Bits a sample, from the decoder's name of the pixel layout ("yuv420p", "yuv420p10le").
    fn bit_depth(&self) -> u8 {
        let name = self
            .pix_fmt
            .trim_end_matches("le")
            .trim_end_matches("be")
            .as_bytes();
        let digits = name.iter().rev().take_while(|b| b.is_ascii_digit()).count();
        let text = std::str::from_utf8(&name[name.len() - digits..]).unwrap_or("");
        // "yuv420p" ends in a letter; "nv12" and "p010" in digits that end in 12 and 10.
        match text.parse() {
            Ok(depth @ 9..=16) if self.pix_fmt.contains('p') => depth,
            Ok(10) if self.pix_fmt.starts_with("p0") => 10,
            _ => 8,
        }
    }

    /// Unlabelled pictures are taken as BT.709 from 720 lines up and as BT.601 below (common
    /// practice of players; the files of phones are labelled).
    fn assumed_matrix(&self) -> Option<&'static str> {
        let labelled = self
            .color_space
            .as_deref()
            .is_some_and(|name| name != "unknown" && name != "reserved");
        match (labelled, self.width.min(self.height) >= 720) {
            (true, _) => None,
            (false, true) => Some("bt709"),
            (false, false) => Some("bt601"),
        }
    }

    fn orientation(&self, warnings: &mut Vec<String>) -> Orientation {
        let matrix = self
            .side_data_list
            .iter()
            .find_map(|side| side.displaymatrix.as_deref());
        let Some(matrix) = matrix else {
            return Orientation::default();
        };
        Orientation::from_printed_matrix(matrix).unwrap_or_else(|| {
            warnings.push(
                "The file asks for a slanted rotation, which is ignored; if the picture is not \
                 upright, rotate it in the phone and export it again."
                    .to_owned(),
            );
            Orientation::default()
        })
    }
}

/// "16:9" or "1/90000".
fn parse_ratio(text: &str) -> Option<(u32, u32)> {
    let (a, b) = text.split_once([':', '/'])?;
    Some((a.parse().ok()?, b.parse().ok()?))
}

/// The shown packets of a video track.
struct Packets {
    ticks: Vec<i64>,
    key_ticks: Vec<i64>,
}

fn list_packets(
    tools: &Tools,
    path: &Path,
    track: u32,
    cancel: &Cancel,
) -> Result<Packets, MediaError> {
    let mut command = Command::new(&tools.ffprobe);
    command
        .args(["-v", "error", "-of", "compact=p=0"])
        .args(["-show_entries", "packet=pts,flags"])
        .args(["-select_streams", &track.to_string()])
        .args(guarded_input(path, &[]));
    let list = run(
        tools,
        command,
        path,
        "listing its frames",
        MOST_LIST_BYTES,
        cancel,
    )?;
    let packets = read_list(&list).ok_or_else(|| {
        let reason = "some of its frames carry no time; export it again as MP4 or MOV";
        not_video(&clip_name(path), reason)
    })?;
    match packets.ticks.len() {
        0 => Err(not_video(
            &clip_name(path),
            "it holds no frames; copy it again from the phone",
        )),
        1..=MOST_FRAMES => Ok(packets),
        count => Err(MediaError::TooBig {
            clip: clip_name(path),
            what: format!(
                "it has {count} frames; up to {MOST_FRAMES} can be read: cut the swing out of it \
                 and use that"
            ),
        }),
    }
}

/// Reads lines of `pts=512|flags=K_`; `None` if a shown one carries no time. Among the flags a `K`
/// marks what decoding can start at and a `D` what an edit list hides.
fn read_list(list: &[u8]) -> Option<Packets> {
    let mut packets = Packets {
        ticks: Vec::new(),
        key_ticks: Vec::new(),
    };
    for line in String::from_utf8_lossy(list).lines() {
        let field = |name: &str| {
            let mut fields = line.trim().split('|').filter_map(|f| f.split_once('='));
            fields.find(|(key, _)| *key == name).map(|(_, value)| value)
        };
        let (Some(time), Some(flags)) = (field("pts"), field("flags")) else {
            continue;
        };
        let hidden = flags.contains('D');
        let tick: i64 = match time.parse() {
            Ok(tick) => tick,
            Err(_) if hidden => continue,
            Err(_) => return None,
        };
        if flags.contains('K') {
            packets.key_ticks.push(tick);
        }
        if !hidden {
            packets.ticks.push(tick);
        }
    }
    packets.ticks.sort_unstable();
    packets.ticks.dedup();
    packets.key_ticks.sort_unstable();
    Some(packets)
}

/// How fast frames follow each other.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Pace {
    rate_hz: f64,
    variable: bool,
}

/// A spacing this far from the median, as a part of it, makes a clip one of variable rate
/// ([`ClipFacts::variable_rate`]).
const VARIABLE_PART: f64 = 0.25;
/// Taken as the rate of a single frame, which has no spacing. Nothing is measured from it.
const LONE_FRAME_RATE_HZ: f64 = 30.0;

impl Pace {
    /// The rate is one over the mean of the spacings near their median: clocks that count whole
    /// milliseconds (WebM) space 30 frames/s by 33 and 34, whose median alone would say 30.3.
    fn of(times_s: &[f64]) -> Pace {
        let spacings: Vec<f64> = times_s.windows(2).map(|pair| pair[1] - pair[0]).collect();
        if spacings.is_empty() {
            return Pace {
                rate_hz: LONE_FRAME_RATE_HZ,
                variable: false,
            };
        }
        let mut sorted = spacings.clone();
        sorted.sort_by(f64::total_cmp);
        let median = sorted[sorted.len() / 2];
        // Rounding to ticks must not decide: a millionth of the median is far below any clock's.
        let near = |spacing: f64| (spacing - median).abs() <= median * (VARIABLE_PART + 1e-6);
        let near: Vec<f64> = spacings.iter().copied().filter(|&s| near(s)).collect();
        Pace {
            rate_hz: near.len() as f64 / near.iter().sum::<f64>(),
            variable: near.len() < spacings.len(),
        }
    }
}

/// The rate a phone wrote into the file. `com.android.capture.fps` is what Android's muxer writes
/// for high-speed recording (a 32-bit float in the QuickTime metadata list); iPhones write none
/// and keep the true clock in the container.
fn tagged_rate(tags: [&BTreeMap<String, String>; 2]) -> Option<f64> {
    tags.iter()
        .find_map(|tags| tags.get("com.android.capture.fps"))
        .and_then(|text| text.trim().parse().ok())
        .filter(|rate: &f64| rate.is_finite() && *rate > 0.0)
}

/// A tag is believed from this ratio to the container's rate on. Below it, the phone has slowed
/// its shutter in poor light (30 asked for, 24 written) and the container's clock is the true one;
/// slow motion is slowed at least twice.
const LEAST_SLOW_MOTION: f64 = 1.5;

fn capture_rate(rate_hz: f64, stated: Option<f64>, tagged: Option<f64>) -> (f64, RateSource) {
    match (stated, tagged) {
        (Some(stated), _) => (stated, RateSource::Stated),
        (None, Some(tagged)) if tagged / rate_hz >= LEAST_SLOW_MOTION => {
            (tagged, RateSource::Metadata)
        }
        _ => (rate_hz, RateSource::Container),
    }
}

/// A file whose frames end this far before its stated length was cut short in copying.
const CUT_SHORT_PART: f64 = 0.95;

fn warn_if_cut_short(video: &Track, duration_s: f64, warnings: &mut Vec<String>) {
    let claimed = video.duration.as_ref().and_then(|d| d.parse::<f64>().ok());
    if let Some(claimed) = claimed.filter(|c| duration_s < CUT_SHORT_PART * c) {
        warnings.push(format!(
            "The file says it is {claimed:.1} s long but holds {duration_s:.1} s of pictures: it \
             was probably cut short in copying. Copy it again if the swing is not all there."
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rate_survives_clocks_that_count_milliseconds() {
        for rate in [24.0, 30.0, 59.94, 60.0, 120.0, 240.0] {
            let times: Vec<f64> = (0..480)
                .map(|i| (f64::from(i) / rate * 1e3).round() / 1e3)
                .collect();
            let pace = Pace::of(&times);
            // 479 spacings, 0.5 ms rounding at each end.
            assert!(
                (pace.rate_hz / rate - 1.0).abs() < 1e-3 * rate / 479.0,
                "{pace:?}"
            );
            assert!(!pace.variable, "{rate}");
        }
    }

    #[test]
    fn one_dropped_frame_makes_the_rate_variable_but_does_not_move_it() {
        let mut times: Vec<f64> = (0..100).map(|i| f64::from(i) / 30.0).collect();
        times.remove(50);
        let pace = Pace::of(&times);
        assert!(pace.variable);
        assert!((pace.rate_hz - 30.0).abs() < 1e-9);
    }

    #[test]
    fn a_lone_frame_has_a_pace() {
        assert!(Pace::of(&[0.0]).rate_hz > 0.0);
    }

    #[test]
    fn the_capture_rate_is_stated_before_tagged_before_the_containers() {
        let cases = [
            (30.0, None, None, (30.0, RateSource::Container)),
            (30.0, None, Some(240.0), (240.0, RateSource::Metadata)),
            (30.0, Some(120.0), Some(240.0), (120.0, RateSource::Stated)),
            // Slowed shutter, and a tag that repeats the container.
            (24.0, None, Some(30.0), (24.0, RateSource::Container)),
            (239.98, None, Some(240.0), (239.98, RateSource::Container)),
        ];
        for (rate, stated, tagged, expected) in cases {
            assert_eq!(
                capture_rate(rate, stated, tagged),
                expected,
                "{rate} {tagged:?}"
            );
        }
    }

    #[test]
    fn bit_depth_is_read_from_the_pixel_layouts_name() {
        let cases = [
            ("yuv420p", 8),
            ("yuvj420p", 8),
            ("yuv420p10le", 10),
            ("yuv422p10be", 10),
            ("yuv420p12le", 12),
            ("nv12", 8),
            ("p010le", 10),
            ("gray", 8),
            ("", 8),
        ];
        for (name, expected) in cases {
            let track: Track =
                serde_json::from_str(&format!(r#"{{"index": 0, "pix_fmt": "{name}"}}"#)).unwrap();
            assert_eq!(track.bit_depth(), expected, "{name}");
        }
    }

    #[test]
    fn hidden_packets_are_left_out_and_may_be_started_from() {
        let list = b"pts=-1024|flags=KD\npts=-512|flags=_D\npts=512|flags=__\npts=0|flags=___\n";
        let packets = read_list(list).unwrap();
        assert_eq!(packets.ticks, [0, 512]);
        assert_eq!(packets.key_ticks, [-1024]);
        assert!(read_list(b"pts=N/A|flags=K_\n").is_none());
    }
}
