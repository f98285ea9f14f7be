//! Decoding to upright pictures with their true times, streamed: memory holds one picture at a
//! time, however long the clip.
//!
//! ffmpeg writes raw pictures to its output and, through its `showinfo` filter, one line for each
//! to its error output. The n-th line gives the n-th picture's time in ticks, which is looked up
//! in the clip's list: the index is right also after a jump into the middle, with B-frames, and
//! where the decoder could not show a damaged frame.

use crate::child::{Limits, Worker};
use crate::error::{MediaError, plain_reason};
use crate::probe::{Clip, guarded_input, start_error, stopped_error};
use crate::tone::WideTone;
use crate::tools::Tools;
use lessonwright_model::{Cancel, Picture};
use std::process::Command;
use std::sync::mpsc;
use std::time::Duration;

/// Which frames, and how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameRequest {
    /// Earliest time, s from the clip's first frame.
    pub from_s: f64,
    /// Latest time, s; a frame at this very time is included.
    pub to_s: f64,
    /// The picture is made smaller so that its longer side has this many pixels; never larger.
    pub longest_side_px: Option<u32>,
}

impl FrameRequest {
    /// Every frame.
    pub fn whole(longest_side_px: Option<u32>) -> FrameRequest {
        FrameRequest {
            from_s: 0.0,
            to_s: f64::INFINITY,
            longest_side_px,
        }
    }
}

/// One decoded frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Its place among the clip's frames, from 0: `facts.frame_times_s[index]` is its time.
    pub index: usize,
    /// From the clip's first frame, s of the file's own clock.
    pub time_s: f64,
    /// The upright picture.
    pub picture: Picture,
}

/// An iterator of frames in order of time. It ends after the last frame asked for or after the
/// first error; dropping it ends the decoder.
pub struct FrameReader {
    decoder: Decoder,
    width: usize,
    height: usize,
}

impl FrameReader {
    /// Starts decoding.
    ///
    /// # Errors
    /// [`MediaError::BadRequest`] if no frame lies between the two times or the size is 0,
    /// [`MediaError::ToolMissing`] if ffmpeg can't be started.
    pub fn open(
        tools: &Tools,
        clip: &Clip,
        request: FrameRequest,
        cancel: &Cancel,
    ) -> Result<FrameReader, MediaError> {
        let times = &clip.facts.frame_times_s;
        // Half a tick, so that a time computed elsewhere still names its frame.
        let slack = 0.5 * clip.track.time_base.seconds(1);
        let first = times.partition_point(|&t| t < request.from_s - slack);
        let end = times.partition_point(|&t| t <= request.to_s + slack);
        if first >= end {
            return Err(bad_request(
                clip,
                format!(
                    "no frame lies from {:.3} s to {:.3} s; its frames run from 0 to {:.3} s",
                    request.from_s,
                    request.to_s,
                    times.last().copied().unwrap_or(0.0)
                ),
            ));
        }
        let chosen = Chosen::Range(first, end - 1);
        FrameReader::start(tools, clip, &chosen, request.longest_side_px, cancel)
    }

    fn start(
        tools: &Tools,
        clip: &Clip,
        chosen: &Chosen,
        longest_side_px: Option<u32>,
        cancel: &Cancel,
    ) -> Result<FrameReader, MediaError> {
        if longest_side_px == Some(0) {
            let problem = "a picture of 0 pixels was asked for; ask for at least 1".to_owned();
            return Err(bad_request(clip, problem));
        }
        let size = scaled_size(clip, longest_side_px);
        let (width, height) = match clip.track.orientation.swaps_sides() {
            true => (size.1, size.0),
            false => size,
        };
        let plan = Plan {
            size,
            layout: Layout::Colour,
            threads: threads_for(clip),
        };
        Ok(FrameReader {
            decoder: Decoder::start(tools, clip, chosen, &plan, cancel)?,
            width: width as usize,
            height: height as usize,
        })
    }

    /// The decoder's process number, for measuring it.
    pub fn process_id(&self) -> u32 {
        self.decoder.worker.id()
    }

    fn read(&mut self) -> Result<Option<Frame>, MediaError> {
        let (width, height) = (self.width, self.height);
        let chroma = width.div_ceil(2) * height.div_ceil(2);
        let mut picture = Picture {
            width,
            height,
            luma: vec![0; width * height],
            cb: vec![0; chroma],
            cr: vec![0; chroma],
        };
        let planes = [&mut picture.luma, &mut picture.cb, &mut picture.cr];
        let place = self.decoder.next(planes.map(Vec::as_mut_slice))?;
        Ok(place.map(|Place { index, time_s }| Frame {
            index,
            time_s,
            picture,
        }))
    }
}

impl Iterator for FrameReader {
    type Item = Result<Frame, MediaError>;

    fn next(&mut self) -> Option<Self::Item> {
        self.read().transpose()
    }
}

/// Exactly these frames of a clip, in the order given (a frame may be given twice).
///
/// # Errors
/// [`MediaError::BadRequest`] for an index beyond the clip, and those of [`FrameReader`]; a frame
/// that the decoder can't show is [`MediaError::Decoding`].
pub fn grab(
    tools: &Tools,
    clip: &Clip,
    frames: &[usize],
    longest_side_px: Option<u32>,
    cancel: &Cancel,
) -> Result<Vec<Picture>, MediaError> {
    let count = clip.facts.frame_times_s.len();
    if let Some(beyond) = frames.iter().find(|&&index| index >= count) {
        let problem = format!(
            "frame {beyond} was asked for; it has frames 0 to {}",
            count - 1
        );
        return Err(bad_request(clip, problem));
    }
    let mut wanted = frames.to_vec();
    wanted.sort_unstable();
    wanted.dedup();
    let mut found: Vec<Frame> = Vec::with_capacity(wanted.len());
    for run in wanted.chunk_by(|&a, &b| clip.decodes_through(a, b)) {
        for piece in run.chunks(MOST_LISTED_FRAMES) {
            let chosen = Chosen::Listed(piece.to_vec());
            for frame in FrameReader::start(tools, clip, &chosen, longest_side_px, cancel)? {
                found.push(frame?);
            }
        }
    }
    let picture_of = |index: &usize| {
        let place = found.binary_search_by_key(index, |frame| frame.index);
        place
            .map(|place| found[place].picture.clone())
            .map_err(|_| MediaError::Decoding {
                clip: clip.facts.name.clone(),
                doing: "taking out single frames",
                reason: format!(
                    "frame {index} is damaged; choose a neighbour or copy the file again"
                ),
            })
    };
    frames.iter().map(picture_of).collect()
}

/// Frames named one by one in a filter; more go into a further run.
const MOST_LISTED_FRAMES: usize = 64;

impl Clip {
    /// True if decoding from frame `a` on to frame `b` meets no later frame to start from.
    fn decodes_through(&self, a: usize, b: usize) -> bool {
        let (a, b) = (self.track.ticks[a], self.track.ticks[b]);
        self.track.keys_up_to(a) == self.track.keys_up_to(b)
    }
}

fn bad_request(clip: &Clip, problem: String) -> MediaError {
    MediaError::BadRequest {
        clip: clip.facts.name.clone(),
        problem,
    }
}

/// Stored width and height after scaling, before turning upright.
pub(crate) fn scaled_size(clip: &Clip, longest_side_px: Option<u32>) -> (u32, u32) {
    let (width, height) = (clip.track.stored_width_px, clip.track.stored_height_px);
    let longest = width.max(height);
    match longest_side_px {
        Some(wanted) if wanted < longest => {
            let scale = f64::from(wanted) / f64::from(longest);
            let scaled = |side: u32| ((f64::from(side) * scale).round() as u32).max(1);
            (scaled(width), scaled(height))
        }
        _ => (width, height),
    }
}

/// Which frames a decoder gives, by index.
pub(crate) enum Chosen {
    /// From one to another, both included.
    Range(usize, usize),
    /// These, rising.
    Listed(Vec<usize>),
    /// From one to another, at least this far apart, s.
    Spaced(usize, usize, f64),
}

/// What is written for each picture.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layout {
    /// Y'CbCr 4:2:0, limited range, BT.709.
    Colour,
    /// One byte a pixel.
    Grey,
}

/// How pictures are decoded.
pub(crate) struct Plan {
    /// Stored width and height after scaling, before turning upright.
    pub size: (u32, u32),
    pub layout: Layout,
    pub threads: u32,
}

/// Pictures above this size are decoded by two threads. One thread decodes 1080p HEVC several
/// times faster than the networks look at it, and costs the least; 4K needs both.
const ONE_THREAD_PIXELS: u64 = 2048 * 1152;

fn threads_for(clip: &Clip) -> u32 {
    let pixels = u64::from(clip.facts.width_px) * u64::from(clip.facts.height_px);
    if pixels > ONE_THREAD_PIXELS { 2 } else { 1 }
}

/// A picture must come within `wait_s` of being asked for. The processor time is a backstop: 900 s
/// of 4K HEVC at 240 frames/s need about as much.
const DECODE_LIMITS: Limits = Limits {
    address_space_bytes: 2 << 30,
    processor_s: 4 * 3600,
    wait_s: 60,
    written_bytes: 0,
};

const DOING: &str = "decoding";

/// Where a decoded picture belongs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Place {
    pub index: usize,
    pub time_s: f64,
}

/// ffmpeg at work on one clip.
pub(crate) struct Decoder {
    worker: Worker,
    ticks: mpsc::Receiver<i64>,
    clip_name: String,
    times_s: Vec<f64>,
    clip_ticks: Vec<i64>,
    last_index: usize,
    given: usize,
    done: bool,
}

impl Decoder {
    pub fn start(
        tools: &Tools,
        clip: &Clip,
        chosen: &Chosen,
        plan: &Plan,
        cancel: &Cancel,
    ) -> Result<Decoder, MediaError> {
        let mut command = Command::new(&tools.ffmpeg);
        command
            .args(["-hide_banner", "-nostdin", "-nostats"])
            .args(["-loglevel", "repeat+level+info"])
            .args(["-filter_threads", "1"])
            .args(guarded_input(
                &clip.path,
                &input_options(clip, chosen, plan),
            ))
            .args(["-map", &format!("0:{}", clip.track.index)])
            .args(["-vf", &filters(clip, chosen, plan)])
            .args(["-fps_mode", "passthrough", "-enc_time_base", "-1"])
            .args(["-f", "rawvideo", "pipe:1"]);
        let (sender, ticks) = mpsc::channel();
        let on_line = move |line: &str| {
            if let Some(tick) = shown_tick(line) {
                // Nobody listens any more: the reader was dropped and the child is being killed.
                let _ = sender.send(tick);
            }
            line.contains("[error]") || line.contains("[fatal]")
        };
        let worker = Worker::start(command, DECODE_LIMITS, cancel, on_line)
            .map_err(|source| start_error(&tools.ffmpeg, &clip.facts.name, DOING, source))?;
        Ok(Decoder {
            worker,
            ticks,
            clip_name: clip.facts.name.clone(),
            times_s: clip.facts.frame_times_s.clone(),
            clip_ticks: clip.track.ticks.clone(),
            last_index: chosen.last(),
            given: 0,
            done: false,
        })
    }

    /// Fills the planes with the next picture; `None` after the last.
    pub fn next<const N: usize>(
        &mut self,
        planes: [&mut [u8]; N],
    ) -> Result<Option<Place>, MediaError> {
        if self.done {
            return Ok(None);
        }
        let result = self.read_picture(planes);
        self.done = match &result {
            Ok(Some(place)) => place.index >= self.last_index,
            _ => true,
        };
        result
    }

    fn read_picture<const N: usize>(
        &mut self,
        planes: [&mut [u8]; N],
    ) -> Result<Option<Place>, MediaError> {
        for (number, plane) in planes.into_iter().enumerate() {
            let filled = self.worker.read_full(plane);
            let filled = filled.map_err(|source| self.system_error(source))?;
            if filled == 0 && number == 0 {
                return self.end();
            }
            if filled < plane.len() {
                return Err(self.gave_up("its output ended inside a picture".to_owned()));
            }
        }
        let Some(place) = self.next_place() else {
            return Err(self.gave_up("a picture came without its time".to_owned()));
        };
        self.given += 1;
        Ok(Some(place))
    }

    /// The place of the picture just read. Its line was written before it.
    fn next_place(&self) -> Option<Place> {
        /// For the thread that reads the lines to be scheduled.
        const LINE_WAIT: Duration = Duration::from_secs(10);
        let tick = self.ticks.recv_timeout(LINE_WAIT).ok()?;
        let index = nearest(&self.clip_ticks, tick);
        Some(Place {
            index,
            time_s: self.times_s[index],
        })
    }

    /// The output has ended: was that the end of the frames?
    fn end(&mut self) -> Result<Option<Place>, MediaError> {
        let finished = self.worker.finish();
        let (status, messages) = finished.map_err(|source| self.system_error(source))?;
        if let Some(why) = self.worker.stopped() {
            return Err(stopped_error(
                &self.clip_name,
                DOING,
                why,
                DECODE_LIMITS.wait_s,
            ));
        }
        match (status.success(), self.given) {
            (true, 1..) => Ok(None),
            (true, 0) if messages.is_empty() => Err(self.gave_up(
                "no picture could be decoded; copy the file again from the phone".to_owned(),
            )),
            _ => Err(self.gave_up(plain_reason(&messages))),
        }
    }

    fn gave_up(&self, reason: String) -> MediaError {
        match self.worker.stopped() {
            Some(why) => stopped_error(&self.clip_name, DOING, why, DECODE_LIMITS.wait_s),
            None => MediaError::Decoding {
                clip: self.clip_name.clone(),
                doing: DOING,
                reason,
            },
        }
    }

    fn system_error(&self, source: std::io::Error) -> MediaError {
        MediaError::System {
            clip: self.clip_name.clone(),
            doing: DOING,
            source,
        }
    }
}

impl Chosen {
    fn first(&self) -> usize {
        match self {
            Chosen::Range(first, _) | Chosen::Spaced(first, _, _) => *first,
            Chosen::Listed(frames) => frames.first().copied().unwrap_or(0),
        }
    }

    fn last(&self) -> usize {
        match self {
            Chosen::Range(_, last) | Chosen::Spaced(_, last, _) => *last,
            Chosen::Listed(frames) => frames.last().copied().unwrap_or(0),
        }
    }
}

/// Threads, and a jump to the last frame that decoding can start at before the first one wanted.
/// With `-copyts` frames keep the file's own ticks; the rest is cut away by a filter.
fn input_options(clip: &Clip, chosen: &Chosen, plan: &Plan) -> Vec<String> {
    let mut options = vec![
        "-threads".to_owned(),
        plan.threads.to_string(),
        "-noautorotate".to_owned(),
        "-copyts".to_owned(),
    ];
    let first_tick = clip.track.ticks[chosen.first()];
    // The jump is made only where there is something to skip: without one, nothing can go wrong.
    if clip.track.keys_up_to(first_tick) > 1 {
        let target_s = clip.track.time_base.seconds(first_tick);
        options.extend(["-noaccurate_seek", "-seek_timestamp", "1", "-ss"].map(str::to_owned));
        options.push(format!("{target_s:.6}"));
    }
    options
}

impl crate::probe::VideoTrack {
    /// How many frames to start from lie at or before `tick`.
    fn keys_up_to(&self, tick: i64) -> usize {
        self.key_ticks.partition_point(|&key| key <= tick)
    }
}

fn filters(clip: &Clip, chosen: &Chosen, plan: &Plan) -> String {
    let track = &clip.track;
    let time_base = track.time_base;
    let (from, to) = (track.ticks[chosen.first()], track.ticks[chosen.last()] + 1);
    let cut = format!("trim=start_pts={from}:end_pts={to}");
    let select = match chosen {
        Chosen::Range(..) => cut,
        Chosen::Spaced(_, _, spacing_s) => {
            format!("{cut},select='isnan(prev_selected_t)+gte(t-prev_selected_t,{spacing_s:.6})'")
        }
        Chosen::Listed(frames) => {
            let each = frames
                .iter()
                .map(|&i| format!("eq(pts,{})", track.ticks[i]));
            format!("{cut},select='{}'", each.collect::<Vec<_>>().join("+"))
        }
    };
    let (width, height) = plan.size;
    let matrix = match track.assumed_matrix.as_deref() {
        Some(matrix) => format!(":in_color_matrix={matrix}"),
        None => String::new(),
    };
    let picture = match plan.layout {
        Layout::Colour => format!(
            "scale={width}:{height}:flags=area{matrix}:out_color_matrix=bt709:out_range=tv,\
             format=yuv420p{}",
            track.wide_tone.map_or_else(String::new, WideTone::filter)
        ),
        Layout::Grey => format!("scale={width}:{height}:flags=area,format=gray"),
    };
    format!(
        "settb=expr={}/{},{select},{picture}{},showinfo=checksum=0",
        time_base.numerator,
        time_base.denominator,
        track.orientation.filters()
    )
}

/// The tick in a line of the `showinfo` filter: "… n:   3 pts:   9216 pts_time:0.6 …".
fn shown_tick(line: &str) -> Option<i64> {
    if !line.contains("showinfo") {
        return None;
    }
    let (_, rest) = line.split_once(" n:")?;
    let (_, rest) = rest.split_once(" pts:")?;
    rest.split_whitespace().next()?.parse().ok()
}

/// Index of the value nearest to `tick` in a rising list that is not empty.
fn nearest(ticks: &[i64], tick: i64) -> usize {
    let after = ticks.partition_point(|&t| t < tick);
    match (after.checked_sub(1), ticks.get(after)) {
        (Some(before), Some(&next)) if tick - ticks[before] < next - tick => before,
        (Some(before), None) => before,
        _ => after,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_read_from_lines_that_describe_a_frame_only() {
        let frame = "[Parsed_showinfo_5 @ 0x56] [info] n:   1 pts:   8192 pts_time:0.53 pos: 97439";
        assert_eq!(shown_tick(frame), Some(8192));
        let negative = "[Parsed_showinfo_5 @ 0x56] [info] n:1 pts:-512 pts_time:-0.03 fmt:gray";
        assert_eq!(shown_tick(negative), Some(-512));
        for other in [
            "[Parsed_showinfo_5 @ 0x56] [info] config in time_base: 1/15360, frame_rate: 30/1",
            "[Parsed_showinfo_5 @ 0x56] [info] n:   1 pts:NOPTS pts_time:NOPTS",
            "[info]     title           : n: 3 pts: 77",
        ] {
            assert_eq!(shown_tick(other), None, "{other}");
        }
    }

    #[test]
    fn the_nearest_tick_is_found_at_both_ends_and_between() {
        let ticks = [0, 10, 20];
        for (tick, expected) in [(-5, 0), (0, 0), (4, 0), (6, 1), (20, 2), (99, 2)] {
            assert_eq!(nearest(&ticks, tick), expected, "{tick}");
        }
    }
}
