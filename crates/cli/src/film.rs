//! Films: a swing slowed down with the lesson's lines, and two swings side by side. Decoders feed pictures in, an
//! encoder takes them out; what is shown when and where is the `clip` crate's.

use crate::arguments::BeforeAfterArguments;
use crate::correct::travel_both;
use crate::pictures::{Followed, PICTURE_SIDE_PX, followed};
use crate::road::Travelled;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use lessonwright_clip::{Canvas, Held, Layout, Panel, Plan, Plate, Shot, Shown, Watched, panel};
use lessonwright_language::{Say, t, when};
use lessonwright_media::{
    self as media, Clip, Film, FilmFormat, Frame, FrameReader, FrameRequest, Voice,
};
use lessonwright_model::{Cancel, Hand, Joint, MomentName, PixelPoint, Scrub, View};
use lessonwright_print::{Caption, lettering};
use lessonwright_report::{
    Crop, FilmWords, LessonContent, MovingPicture, Overlay, Pose, film_hand, film_lines,
    film_stands_long, film_title, film_words, overlay,
};
use lessonwright_store::{Store, SwingId};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicU32, Ordering};
use tokio::runtime::Runtime;

/// The moments at which a film stands still.
const HELD: [MomentName; 5] = [
    MomentName::Address,
    MomentName::Top,
    MomentName::LeadArmLevelDown,
    MomentName::Impact,
    MomentName::Finish,
];

/// Width of the film in the page, px.
const SMALL_WIDTH: usize = 540;

/// A film of a lesson.
pub struct Films {
    /// MP4 with the voice.
    pub film: Vec<u8>,
    /// A small one without, for the page.
    pub small: MovingPicture,
}

/// A voice over a swing, and what was looked at meanwhile.
#[derive(Clone, Debug, Default)]
pub struct Spoken {
    /// Silence where nobody spoke.
    pub voice: Voice,
    /// None for a voice that was recorded elsewhere: the film then goes its own way.
    pub scrub: Option<Scrub>,
}

/// One clip of a film.
struct Reel<'a> {
    clip: &'a Clip,
    followed: Followed<'a>,
    watched: Watched,
    hand: Hand,
    /// Of what can be drawn, what is shown.
    lines: Box<dyn Fn(&Overlay) -> Overlay + 'a>,
}

/// What is said under it.
struct Words {
    title: FilmWords,
    /// For each moment held.
    held: Vec<(Held, FilmWords)>,
}

/// The film of a lesson; `None` where its clips share no moment.
pub fn of_lesson(
    around: &Surroundings,
    travelled: &Travelled,
    content: &LessonContent,
    spoken: &Spoken,
    cancel: &Cancel,
) -> Result<Option<Films>> {
    let mut reels: Vec<Reel<'_>> = followed(travelled)
        .into_iter()
        .map(|(clip, followed)| {
            let view = followed.report.view;
            Reel {
                lines: Box::new(move |drawn| film_lines(content, view, drawn)),
                hand: film_hand(content, view),
                ..Reel::of(travelled, clip, followed)
            }
        })
        .collect();
    // As the page has them, in whatever order they were given.
    reels.sort_by_key(|reel| reel.followed.report.view);
    let held = HELD.map(|moment| {
        let held = Held {
            moment,
            long: film_stands_long(content, moment),
        };
        (held, film_words(content, moment))
    });
    let words = Words {
        title: film_title(content),
        held: held.to_vec(),
    };
    shoot(around, &reels, &words, spoken, cancel)
}

/// `before-after`: one view of two swings.
pub fn before_after(
    around: &Surroundings,
    arguments: &BeforeAfterArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let spoken = match &arguments.voice {
        Some(file) => Spoken {
            voice: media::voice(&around.tools, file, cancel)?,
            scrub: None,
        },
        None => Spoken::default(),
    };
    let ids = [arguments.before, arguments.after].map(SwingId);
    let (both, days) = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let both = travel_both(around, &store, ids, cancel).await?;
        anyhow::Ok((both, days_of(&store, ids).await?))
    })?;
    let views = arguments
        .view
        .map_or(vec![View::FaceOn, View::DownTheLine], |v| vec![v.into()]);
    let reels = views.iter().find_map(|view| {
        let reel = |travelled| Reel::in_view(travelled, *view);
        Some([reel(&both[0])?, reel(&both[1])?])
    });
    let reels = reels.context("the two swings were not filmed from the same view")?;
    // It is for the player whose swing comes after.
    let say = Say::new(both[1].own.language);
    let sides = match days {
        Some([before, after]) => t("film-before-left-on")
            .with("before", when::date(before))
            .with("after", when::date(after)),
        None => t("film-before-left"),
    };
    let sides = say.text(&sides);
    let held = HELD.map(|moment| {
        let held = Held {
            moment,
            long: false,
        };
        (
            held,
            [
                lessonwright_report::moment_title(moment, say),
                sides.clone(),
            ],
        )
    });
    let words = Words {
        title: [say.text(&t("film-before-and-after")), sides.clone()],
        held: held.to_vec(),
    };
    let films = shoot(around, &reels, &words, &spoken, cancel)?
        .context("the two swings share no moment: correct their moments by hand first")?;
    fs::write(&arguments.out, films.film)
        .with_context(|| format!("writing {}", arguments.out.display()))?;
    println!("Film: {}", arguments.out.display());
    Ok(())
}

/// The days of two swings' sessions; none where they are the same.
async fn days_of(store: &Store, ids: [SwingId; 2]) -> Result<Option<[Date; 2]>> {
    let mut days = [Date::default(); 2];
    for (day, id) in days.iter_mut().zip(ids) {
        let swing = store.swing(id).await?;
        let swing = swing.context("the swing was erased meanwhile")?;
        let filmed_at = swing.filmed_at.unwrap_or(swing.added_at);
        let said = store.swing_mark(id).await?.session_on;
        *day = said.unwrap_or_else(|| filmed_at.to_zoned(TimeZone::system()).date());
    }
    Ok((days[0] != days[1]).then_some(days))
}

impl<'a> Reel<'a> {
    /// With the figure drawn and nothing else.
    fn of(travelled: &'a Travelled, clip: &'a Clip, followed: Followed<'a>) -> Reel<'a> {
        let report = followed.report;
        let real = report.rate_hz / report.capture_rate_hz;
        let moments = travelled
            .measured
            .moments
            .iter()
            .filter(|m| m.view == report.view);
        Reel {
            watched: Watched {
                frame_times_s: clip.facts.frame_times_s.iter().map(|t| t * real).collect(),
                // The picture taken for a moment is the one that stands.
                moments: moments
                    .map(|m| (m.name, clip.facts.frame_times_s[m.frame] * real))
                    .collect(),
            },
            hand: report.hand,
            lines: Box::new(|drawn| Overlay {
                shift: None,
                before: None,
                now: None,
                trunk_side: None,
                elbow: None,
                ..drawn.clone()
            }),
            clip,
            followed,
        }
    }

    fn in_view(travelled: &'a Travelled, view: View) -> Option<Reel<'a>> {
        let mut all = followed(travelled).into_iter();
        let (clip, followed) = all.find(|(_, followed)| followed.report.view == view)?;
        Some(Reel::of(travelled, clip, followed))
    }

    /// The golfer in a frame, px of a picture of this width.
    fn seen(&self, width_px: usize, frame: usize) -> Golfer {
        Golfer {
            view: self.followed.report.view,
            landmarks: self.followed.landmarks_in(width_px, frame),
            club: self.followed.club_in(width_px, frame),
        }
    }

    fn frame_of(&self, name: MomentName) -> Option<usize> {
        let (_, at) = self.watched.moments.iter().find(|(n, _)| *n == name)?;
        Some(self.watched.frame_times_s.partition_point(|t| t < at))
    }

    /// Frames of these places, as they come.
    fn open(&self, around: &Surroundings, shown: &[usize], cancel: &Cancel) -> Result<FrameReader> {
        let times = &self.clip.facts.frame_times_s;
        let (first, last) = (shown[0], shown[shown.len() - 1]);
        let request = FrameRequest {
            from_s: times[first],
            to_s: times[last],
            longest_side_px: Some(PICTURE_SIDE_PX),
        };
        Ok(FrameReader::open(
            &around.tools,
            self.clip,
            request,
            cancel,
        )?)
    }
}

struct Golfer {
    view: View,
    landmarks: Vec<(Joint, PixelPoint)>,
    club: Option<[PixelPoint; 2]>,
}

impl Golfer {
    fn pose(&self) -> Pose<'_> {
        Pose {
            view: self.view,
            landmarks: &self.landmarks,
            club: self.club,
        }
    }
}

/// One view being shown: its decoder, and the frame it has come to.
struct Showing<'a> {
    reel: &'a Reel<'a>,
    source: Source,
    frame: Frame,
    address: Option<Golfer>,
    crop: Crop,
}

/// Where frames come from.
enum Source {
    /// As they are decoded: a film that only goes on.
    Onward(FrameReader),
    /// All that will be shown: a film that goes back as well.
    Kept(BTreeMap<usize, Frame>),
}

impl Source {
    /// The frame itself, or the last before it where that one is damaged; none if that is shown already.
    fn frame(&mut self, index: usize, now: &Frame) -> Result<Option<Frame>> {
        match self {
            Source::Kept(frames) => {
                let found = frames.range(..=index).next_back();
                let other = found.filter(|(at, _)| **at != now.index);
                Ok(other.map(|(_, frame)| frame.clone()))
            }
            Source::Onward(reader) => {
                let mut found = None;
                while found.as_ref().map_or(now.index, |f: &Frame| f.index) < index {
                    match reader.next() {
                        Some(frame) => found = Some(frame?),
                        None => break,
                    }
                }
                Ok(found)
            }
        }
    }
}

impl<'a> Showing<'a> {
    fn start(
        around: &Surroundings,
        reel: &'a Reel<'a>,
        shown: &[usize],
        cancel: &Cancel,
    ) -> Result<Showing<'a>> {
        let goes_back = shown.windows(2).any(|pair| pair[1] < pair[0]);
        let mut wanted = shown.to_vec();
        wanted.sort_unstable();
        wanted.dedup();
        let mut reader = reel.open(around, &wanted, cancel)?;
        let frame = reader.next().context("a clip with frames shows one")??;
        let source = if goes_back {
            let mut kept = BTreeMap::from([(frame.index, frame.clone())]);
            for next in reader {
                let next = next?;
                if wanted.binary_search(&next.index).is_ok() {
                    kept.insert(next.index, next);
                }
            }
            Source::Kept(kept)
        } else {
            Source::Onward(reader)
        };
        let (width, height) = (frame.picture.width, frame.picture.height);
        // The window holds the golfer and the club at every moment.
        let at_moments: Vec<Golfer> = MomentName::ALL
            .iter()
            .filter_map(|name| Some(reel.seen(width, reel.frame_of(*name)?)))
            .collect();
        let points = at_moments.iter().flat_map(|golfer| golfer.pose().points());
        Ok(Showing {
            address: reel
                .frame_of(MomentName::Address)
                .map(|frame| reel.seen(width, frame)),
            crop: Crop::around(points, width, height),
            reel,
            source,
            frame,
        })
    }

    /// Goes to a frame. True if another is shown now.
    fn go_to(&mut self, index: usize) -> Result<bool> {
        let found = self.source.frame(index, &self.frame)?;
        let is_another = found.is_some();
        if let Some(frame) = found {
            self.frame = frame;
        }
        Ok(is_another)
    }

    fn panel(&self, place: &Panel, height: usize) -> Shot {
        let width = self.frame.picture.width;
        let golfer = self.reel.seen(width, self.frame.index);
        let address = self.address.as_ref().map(Golfer::pose);
        let drawn = overlay(
            golfer.pose(),
            address,
            self.reel.hand,
            self.crop,
            place.scale,
        );
        panel(
            place,
            height,
            &self.frame.picture,
            &(self.reel.lines)(&drawn),
        )
    }
}

fn shoot(
    around: &Surroundings,
    reels: &[Reel<'_>],
    words: &Words,
    spoken: &Spoken,
    cancel: &Cancel,
) -> Result<Option<Films>> {
    let Some(plan) = plan(reels, words, spoken) else {
        return Ok(None);
    };
    let mut views = Vec::new();
    for (number, reel) in reels.iter().enumerate() {
        let shown: Vec<usize> = plan
            .shown
            .iter()
            .map(|shown| shown.frames[number])
            .collect();
        views.push(Showing::start(around, reel, &shown, cancel)?);
    }
    let layout = Layout::of(&views.iter().map(|view| view.crop).collect::<Vec<_>>());
    let plates = plates(words, &layout)?;
    let folder = around.studio.join("films-in-progress");
    fs::create_dir_all(&folder).with_context(|| format!("making {}", folder.display()))?;
    let [to, small] = ["film", "small"].map(|name| folder.join(unused(name)));
    let format = FilmFormat {
        width: layout.width,
        height: layout.height,
        rate_hz: Plan::RATE_HZ,
        pictures: plan.shown.len(),
        small_width: SMALL_WIDTH.min(layout.width),
    };
    let mut film = Film::start(&around.tools, format, &spoken.voice, &to, &small, cancel)?;
    expose(&mut film, &mut views, &plan, layout, &plates)?;
    film.finish()?;
    Ok(Some(Films {
        film: taken(&to)?,
        small: MovingPicture {
            mp4: taken(&small)?,
            width_px: format.small_width,
            height_px: format.height * format.small_width / format.width,
        },
    }))
}

/// As it was looked at while somebody spoke, else at its own pace.
fn plan(reels: &[Reel<'_>], words: &Words, spoken: &Spoken) -> Option<Plan> {
    /// Frames of a clip that are kept at once where a film goes back: 1.4 MB each.
    const MOST_KEPT: usize = 160;
    let watched: Vec<Watched> = reels.iter().map(|reel| reel.watched.clone()).collect();
    let held: Vec<Held> = words.held.iter().map(|(held, _)| *held).collect();
    let looked = spoken.scrub.as_ref().and_then(|scrub| {
        let lead = reels
            .iter()
            .position(|reel| reel.followed.report.view == scrub.view)?;
        let points: Vec<(f64, usize)> = scrub.points.iter().map(|p| (p.at_s, p.frame)).collect();
        let names: Vec<MomentName> = held.iter().map(|held| held.moment).collect();
        Plan::spoken(&watched, &names, lead, &points, spoken.voice.duration_s())
    });
    looked
        .map(|plan| plan.thinned(MOST_KEPT))
        .or_else(|| Plan::of(&watched, &held, spoken.voice.duration_s()))
}

/// Picture by picture; a view or plate that stands still is not painted again.
fn expose(
    film: &mut Film,
    views: &mut [Showing<'_>],
    plan: &Plan,
    layout: Layout,
    plates: &[Plate],
) -> Result<()> {
    let mut canvas = Canvas::new(layout.clone());
    let mut before: Option<&Shown> = None;
    for shown in &plan.shown {
        for (number, view) in views.iter_mut().enumerate() {
            if view.go_to(shown.frames[number])? || before.is_none() {
                canvas.show(
                    number,
                    &view.panel(&layout.panels[number], layout.panel_height()),
                );
            }
        }
        if before.is_none_or(|before| before.near != shown.near) {
            // The first plate is the title.
            canvas.say(&plates[shown.near.map_or(0, |place| place + 1)]);
        }
        film.show(canvas.rgba())?;
        before = Some(shown);
    }
    Ok(())
}

/// The title, then the words of each moment held.
fn plates(words: &Words, layout: &Layout) -> Result<Vec<Plate>> {
    let all = std::iter::once(&words.title).chain(words.held.iter().map(|(_, words)| words));
    let captions: Vec<Caption> = all
        .map(|[title, text]| Caption {
            title: title.clone(),
            text: text.clone(),
        })
        .collect();
    let set = lettering(&captions, layout.width, layout.plate_height)?;
    let plate = |letters: lessonwright_print::Lettering| Plate {
        width: letters.width,
        height: letters.height,
        rgba: letters.rgba,
    };
    Ok(set.into_iter().map(plate).collect())
}

/// A name that no other film under way has.
fn unused(name: &str) -> String {
    static FILMS: AtomicU32 = AtomicU32::new(0);
    let number = FILMS.fetch_add(1, Ordering::Relaxed);
    format!("{name}-{}-{number}.mp4", std::process::id())
}

/// The bytes of a file that is not needed any more.
fn taken(path: &Path) -> Result<Vec<u8>> {
    let bytes = fs::read(path).with_context(|| format!("reading {}", path.display()))?;
    fs::remove_file(path).with_context(|| format!("removing {}", path.display()))?;
    Ok(bytes)
}
