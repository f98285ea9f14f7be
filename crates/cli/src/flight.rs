//! `flight`: what a ball says of face and path, from what was seen of it or from a device's shots.

use crate::arguments::HandName;
use crate::correct::judge_again;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result, ensure};
use clap::{Args, ValueEnum};
use jiff::Timestamp;
use lessonwright_coaching::ball::{
    AssumedUnits, BallReading, ClubKind, Column, Curve, Height, Kind, Measured, SeenBall, Shot,
    ShotTable, Spoilt, Start, Strike, ToldBall, Unit, infer, middle_shots, read_quantity,
    read_shots, would_settle,
};
use lessonwright_language::{Say, Text};
use lessonwright_model::{Cancel, Hand};
use lessonwright_store::{Store, SwingId};
use serde::Serialize;
use std::fmt::Write;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tokio::runtime::Runtime;

/// One ball, or a file of them.
#[derive(Args)]
pub struct FlightArguments {
    /// The hand the player plays: it decides what is open and what is a slice
    #[arg(long, value_enum)]
    hand: HandName,
    /// The club: driver, 3 wood, 7 iron, wedge … [default: the table's, or any]
    #[arg(long, value_parser = club)]
    club: Option<ClubKind>,
    #[command(flatten)]
    seen: SeenArguments,
    #[command(flatten)]
    measured: MeasuredArguments,
    #[command(flatten)]
    table: TableArguments,
    /// Keep it with this swing of the studio: it counts in the swing's lesson from then on
    #[arg(long, value_name = "NUMBER", conflicts_with = "csv")]
    pub swing: Option<i64>,
    /// Print one JSON object instead of text; angles in degrees, + right of the target
    #[arg(long)]
    json: bool,
}

/// What the eye saw.
#[derive(Args)]
#[command(next_help_heading = "What was seen")]
struct SeenArguments {
    /// Where it started: left, straight, right, or degrees with a side (3 R)
    #[arg(long, value_parser = Start::read)]
    start: Option<Start>,
    /// How it curved: none, left, "slight right", "big left", or how far it landed beside its start
    /// line (12 m right)
    #[arg(long, value_parser = Curve::read)]
    curve: Option<Curve>,
    /// How high it flew, for its club
    #[arg(long, value_enum)]
    height: Option<HeightName>,
    /// How far it flew before landing: 180 m, 200 yd
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    carry: Option<f64>,
    /// Where on the face it left its mark
    #[arg(long, value_enum)]
    strike: Option<StrikeName>,
    /// A strike that is none of the nine flights
    #[arg(long, value_enum)]
    spoilt: Option<SpoiltName>,
}

/// What a device measured.
#[derive(Args)]
#[command(next_help_heading = "What was measured (a bare minus is left, or down)")]
struct MeasuredArguments {
    /// Ball speed: 70 m/s, 157 mph
    #[arg(long, value_name = "SPEED", value_parser = speed)]
    ball_speed: Option<f64>,
    /// Launch angle, degrees
    #[arg(long, value_name = "DEG", value_parser = angle, allow_hyphen_values = true)]
    launch_angle: Option<f64>,
    /// Start direction, degrees: 2.1 L
    #[arg(long, value_name = "DEG", value_parser = angle, allow_hyphen_values = true)]
    start_direction: Option<f64>,
    /// Spin, rpm
    #[arg(long, value_name = "RPM", value_parser = spin)]
    spin: Option<f64>,
    /// Tilt of the spin axis, degrees: 8 R
    #[arg(long, value_name = "DEG", value_parser = angle, allow_hyphen_values = true)]
    spin_axis: Option<f64>,
    /// Club speed: 45 m/s, 100 mph
    #[arg(long, value_name = "SPEED", value_parser = speed)]
    club_speed: Option<f64>,
    /// Club path, degrees: 4 L
    #[arg(long, value_name = "DEG", value_parser = angle, allow_hyphen_values = true)]
    path: Option<f64>,
    /// Face angle against the target line, degrees: 1 R
    #[arg(long, value_name = "DEG", value_parser = angle, allow_hyphen_values = true)]
    face: Option<f64>,
    /// Attack angle, degrees
    #[arg(long, value_name = "DEG", value_parser = angle, allow_hyphen_values = true)]
    attack: Option<f64>,
    /// Dynamic loft, degrees
    #[arg(long, value_name = "DEG", value_parser = angle)]
    dynamic_loft: Option<f64>,
}

/// Shots as a device wrote them.
#[derive(Args)]
#[command(next_help_heading = "Many shots")]
struct TableArguments {
    /// Shots of any device as CSV; "-" reads what is pasted
    #[arg(long, value_name = "FILE", conflicts_with_all = [
        "start", "curve", "height", "carry", "strike", "spoilt", "ball_speed", "launch_angle",
        "start_direction", "spin", "spin_axis", "club_speed", "path", "face", "attack", "dynamic_loft",
    ])]
    csv: Option<PathBuf>,
    /// Unit of speeds that state none: m/s, km/h, mph
    #[arg(long, value_name = "UNIT", requires = "csv", value_parser = |text: &str| unit(text, Kind::Speed))]
    speed_unit: Option<Unit>,
    /// Unit of distances that state none: m, yd, ft
    #[arg(long, value_name = "UNIT", requires = "csv", value_parser = |text: &str| unit(text, Kind::Length))]
    length_unit: Option<Unit>,
}

#[derive(Clone, Copy, ValueEnum)]
enum HeightName {
    Low,
    Usual,
    High,
}

#[derive(Clone, Copy, ValueEnum)]
enum StrikeName {
    Centre,
    Toe,
    Heel,
    High,
    Low,
}

#[derive(Clone, Copy, ValueEnum)]
enum SpoiltName {
    Fat,
    Thin,
    Top,
    Shank,
    Sky,
}

fn club(text: &str) -> Result<ClubKind, String> {
    ClubKind::read(text).ok_or_else(|| {
        format!("\"{text}\" is no club known here: say driver, 3 wood, hybrid, 7 iron or wedge")
    })
}

fn speed(text: &str) -> Result<f64, String> {
    read_quantity(text, Kind::Speed)
}

fn length(text: &str) -> Result<f64, String> {
    read_quantity(text, Kind::Length)
}

fn angle(text: &str) -> Result<f64, String> {
    read_quantity(text, Kind::Angle)
}

fn spin(text: &str) -> Result<f64, String> {
    read_quantity(text, Kind::Spin)
}

fn unit(text: &str, kind: Kind) -> Result<Unit, String> {
    Unit::read(text)
        .filter(|unit| unit.kind() == kind)
        .ok_or_else(|| format!("\"{text}\" is no such unit"))
}

/// The text to print: for people, or one JSON object.
pub fn told(arguments: &FlightArguments) -> Result<String> {
    match &arguments.table.csv {
        Some(file) => of_table(arguments, file),
        None => of_one(arguments),
    }
}

fn of_one(arguments: &FlightArguments) -> Result<String> {
    let ball = arguments.ball();
    ensure!(
        ball != SeenBall::default(),
        "nothing is told of the ball: say at least --start and --curve, or name a file with --csv"
    );
    let hand = arguments.hand.into();
    let one = OneBall {
        reading: infer(&ball, arguments.club, hand),
        would_settle: english(&would_settle(&ball, arguments.club, hand)),
    };
    if arguments.json {
        Ok(serde_json::to_string_pretty(&one)? + "\n")
    } else {
        Ok(one.text())
    }
}

/// The command with a swing: its ball is kept with it.
pub fn run(
    around: Surroundings,
    arguments: &FlightArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    match arguments.swing {
        Some(swing) => runtime.block_on(keep(&Arc::new(around), arguments, SwingId(swing), cancel)),
        None => Ok(()),
    }
}

/// Keeps the ball with a swing of the studio, and judges the swing again by it, where it was judged before.
async fn keep(
    around: &Arc<Surroundings>,
    arguments: &FlightArguments,
    swing: SwingId,
    cancel: &Cancel,
) -> Result<()> {
    let store = Store::open(&around.studio).await?;
    let told = ToldBall {
        hand: arguments.hand.into(),
        club: arguments.club,
        ball: arguments.ball(),
    };
    let flight = infer(&told.ball, told.club, told.hand).usual_flight();
    store
        .keep_ball(swing, &told, flight.as_deref(), Timestamp::now())
        .await?;
    let analysed = store.latest_analysis(swing).await?.is_some();
    if analysed && store.brief(swing).await?.is_some() {
        let judged = judge_again(around, &store, swing, cancel).await?;
        judged.draft_lesson(around, &store, cancel).await?;
    }
    Ok(())
}

fn of_table(arguments: &FlightArguments, file: &Path) -> Result<String> {
    let (name, text) = load(file)?;
    let assumed = AssumedUnits {
        speed: arguments.table.speed_unit,
        length: arguments.table.length_unit,
    };
    let table = read_shots(&text, assumed).with_context(|| {
        format!("reading {name} as shots (units that are not written: --speed-unit, --length-unit)")
    })?;
    let many = ManyBalls::of(&table, arguments.club, arguments.hand.into());
    if arguments.json {
        Ok(serde_json::to_string_pretty(&many)? + "\n")
    } else {
        Ok(many.text(&name))
    }
}

/// A file's name for people, and its text.
fn load(file: &Path) -> Result<(String, String)> {
    if file == Path::new("-") {
        let mut bytes = Vec::new();
        std::io::stdin()
            .read_to_end(&mut bytes)
            .context("reading what was pasted")?;
        return Ok(("what was pasted".into(), plain_text(&bytes)));
    }
    let bytes = std::fs::read(file).with_context(|| format!("reading {}", file.display()))?;
    Ok((file.display().to_string(), plain_text(&bytes)))
}

/// UTF-8, or else Latin-1, in which spreadsheets still write their degree signs.
fn plain_text(bytes: &[u8]) -> String {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|byte| char::from(*byte)).collect(),
    }
}

/// Commands speak English.
fn english(texts: &[Text]) -> Vec<String> {
    texts.iter().map(|text| Say::default().text(text)).collect()
}

#[derive(Serialize)]
struct OneBall {
    #[serde(flatten)]
    reading: BallReading,
    would_settle: Vec<String>,
}

impl OneBall {
    fn text(&self) -> String {
        let flight = self.reading.usual_flight();
        let mut text = flight
            .as_ref()
            .map_or(String::new(), |flight| format!("Flight: {flight}.\n"));
        for angle in self.reading.angles() {
            text += &format!("{}\n", Say::default().text(&angle.says));
        }
        let sections = [
            (
                "What this ball can't tell:",
                &english(&self.reading.unknown),
            ),
            ("What would settle more:", &self.would_settle),
        ];
        for (title, lines) in sections.into_iter().filter(|(_, lines)| !lines.is_empty()) {
            text += &format!("\n{title}\n  - {}\n", lines.join("\n  - "));
        }
        text += &format!(
            "\nIn brackets: where {:.0} % of the strikes lie that fit what was told.\n",
            100.0 * self.reading.level
        );
        if let Some(flight) = flight {
            text += &format!("For the lesson: --flight \"{flight}\"\n");
        }
        text
    }
}

#[derive(Serialize)]
struct ManyBalls<'a> {
    columns: &'a [(String, Column)],
    unknown_columns: &'a [String],
    left_out: &'a [String],
    shots: Vec<OneOfMany<'a>>,
}

#[derive(Serialize)]
struct OneOfMany<'a> {
    line: u64,
    club_name: Option<&'a str>,
    reading: BallReading,
}

impl<'a> ManyBalls<'a> {
    fn of(table: &'a ShotTable, club: Option<ClubKind>, hand: Hand) -> ManyBalls<'a> {
        let read = |shot: &'a Shot| OneOfMany {
            line: shot.line,
            club_name: shot.club_name.as_deref(),
            reading: infer(&shot.ball, club.or(shot.club), hand),
        };
        ManyBalls {
            columns: &table.columns,
            unknown_columns: &table.unknown,
            left_out: &table.left_out,
            shots: table.shots.iter().map(read).collect(),
        }
    }

    fn text(&self, name: &str) -> String {
        let mut text = String::new();
        // Writing to a String cannot fail.
        let _ = self.write(&mut text, name);
        text
    }

    fn write(&self, text: &mut String, name: &str) -> std::fmt::Result {
        let names: Vec<&str> = self.columns.iter().map(|(name, _)| name.as_str()).collect();
        writeln!(text, "{} shots from {name}", self.shots.len())?;
        writeln!(text, "  read: {}", names.join(", "))?;
        if !self.unknown_columns.is_empty() {
            writeln!(text, "  not read: {}", self.unknown_columns.join(", "))?;
        }
        for line in self.left_out {
            writeln!(text, "  left out: {line}")?;
        }
        writeln!(
            text,
            "\n{:>5}  {:14}{:27}{:27}{:27}flight",
            "line", "club", "face", "path", "face against path"
        )?;
        for shot in &self.shots {
            let (reading, say) = (&shot.reading, Say::default());
            let club = reading.club.map_or("not said", ClubKind::plain);
            writeln!(
                text,
                "{:>5}  {club:14}{:27}{:27}{:27}{}",
                shot.line,
                say.text(&reading.face.short()),
                say.text(&reading.path.short()),
                say.text(&reading.face_to_path.short()),
                reading.usual_flight().unwrap_or_default()
            )?;
        }
        self.write_why(text)?;
        self.write_clubs(text)?;
        writeln!(
            text,
            "\nDegrees, L left and R right of the target (of the path); in brackets where 95 % of the \
             strikes lie that fit the shot."
        )
    }

    /// Why ranges are withheld, each reason once.
    fn write_why(&self, text: &mut String) -> std::fmt::Result {
        let mut reasons: Vec<(&Text, usize)> = Vec::new();
        let angles = self.shots.iter().flat_map(|shot| shot.reading.angles());
        for reason in angles.filter_map(|angle| angle.reason.as_ref()) {
            match reasons.iter_mut().find(|(known, _)| *known == reason) {
                Some((_, count)) => *count += 1,
                None => reasons.push((reason, 1)),
            }
        }
        if !reasons.is_empty() {
            writeln!(text, "\nWithheld (–):")?;
        }
        for (reason, count) in reasons {
            writeln!(text, "  - {count} times: {}", Say::default().text(reason))?;
        }
        Ok(())
    }

    fn write_clubs(&self, text: &mut String) -> std::fmt::Result {
        writeln!(text, "\nThe middle shot of each club:")?;
        for middle in middle_shots(self.shots.iter().map(|shot| &shot.reading)) {
            let [face, path, between] = middle.angles.map(|angle| Say::default().text(&angle));
            writeln!(
                text,
                "  {}, {} shots: face {face}, path {path}, face against path {between}",
                middle.club.map_or("club not said", ClubKind::plain),
                middle.shots
            )?;
        }
        Ok(())
    }
}

impl FlightArguments {
    fn ball(&self) -> SeenBall {
        let (seen, measured) = (&self.seen, &self.measured);
        SeenBall {
            start: seen.start,
            curve: seen.curve,
            height: seen.height.map(|name| match name {
                HeightName::Low => Height::Low,
                HeightName::Usual => Height::Usual,
                HeightName::High => Height::High,
            }),
            carry_m: seen.carry,
            strike: seen.strike.map(|name| match name {
                StrikeName::Centre => Strike::Centre,
                StrikeName::Toe => Strike::Toe,
                StrikeName::Heel => Strike::Heel,
                StrikeName::High => Strike::High,
                StrikeName::Low => Strike::Low,
            }),
            spoilt: seen.spoilt.map(|name| match name {
                SpoiltName::Fat => Spoilt::Fat,
                SpoiltName::Thin => Spoilt::Thin,
                SpoiltName::Top => Spoilt::Top,
                SpoiltName::Shank => Spoilt::Shank,
                SpoiltName::Sky => Spoilt::Sky,
            }),
            measured: Measured {
                ball_speed_m_s: measured.ball_speed,
                launch_rad: measured.launch_angle,
                start_rad: measured.start_direction,
                spin_rad_s: measured.spin,
                axis_rad: measured.spin_axis,
                club_speed_m_s: measured.club_speed,
                path_rad: measured.path,
                face_rad: measured.face,
                attack_rad: measured.attack,
                loft_rad: measured.dynamic_loft,
                ..Measured::default()
            },
        }
    }
}
