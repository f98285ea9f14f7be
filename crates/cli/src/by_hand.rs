//! `correct`: what can be typed to change a kept swing by hand.

use crate::arguments::ViewName;
use anyhow::{Context, Result, bail, ensure};
use clap::Args;
use lessonwright_model::{
    Change, Corrections, Joint, MomentName, PlacedJoint, SwingAnalysis, View, ViewReport,
};
use serde::de::DeserializeOwned;
use std::path::{Path, PathBuf};

/// Changes to a kept swing.
#[derive(Args)]
pub struct CorrectArguments {
    /// The swing's number, with which its address in the studio ends
    #[arg(value_name = "SWING")]
    pub swing: i64,
    /// The view whose moments, joints and capture rate are meant [default: the only one]
    #[arg(long, value_enum)]
    view: Option<ViewName>,
    /// When a moment is, on the clip's own clock: top=1.512
    #[arg(long, value_name = "MOMENT=S", value_parser = moment_number)]
    moment: Vec<(MomentName, f64)>,
    /// Move a moment by frames, later or earlier: top=+2, impact=-1
    #[arg(long, value_name = "MOMENT=FRAMES", value_parser = moment_number)]
    nudge: Vec<(MomentName, f64)>,
    /// Leave a moment where it is found
    #[arg(long, value_name = "MOMENT", value_parser = named::<MomentName>)]
    as_found: Vec<MomentName>,
    /// Where a joint's centre is: left_knee@93=512,900 in frame 93, in pixels of the size that
    /// `analyse --json` says
    #[arg(long, value_name = "JOINT@FRAME=X,Y", value_parser = joint_at)]
    joint: Vec<JointAt>,
    /// Frames a second of the real motion; 0 for what the clip says
    #[arg(long, value_name = "HZ")]
    capture_rate_hz: Option<f64>,
    /// Standing height for this swing; 0 for the one on record
    #[arg(long, value_name = "CM")]
    stature_cm: Option<f64>,
    /// What you see and no camera measures, all of it, once per fact (`lessonwright causes list`); `nothing` for
    /// none
    #[arg(long, value_name = "FACT", action = clap::ArgAction::Append)]
    pub seen: Vec<String>,
    /// All corrections from a file (JSON, as `corrections` in `analyse --json`), instead of those so
    /// far
    #[arg(long, value_name = "FILE")]
    corrections: Option<PathBuf>,
    /// Take the last change back
    #[arg(long, conflicts_with_all = [
        "moment", "nudge", "as_found", "joint", "capture_rate_hz", "stature_cm", "seen", "corrections",
    ])]
    pub undo: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// A joint's place in a frame.
#[derive(Clone, Debug, PartialEq)]
struct JointAt {
    joint: Joint,
    frame: usize,
    x_px: f64,
    y_px: f64,
}

impl CorrectArguments {
    /// The changes asked for, to a swing as it is analysed now.
    pub fn changes(&self, now: &SwingAnalysis) -> Result<Vec<Change>> {
        let mut changes = Vec::new();
        if let Some(file) = &self.corrections {
            changes.push(Change::All(read(file)?));
        }
        if let Some(cm) = self.stature_cm {
            changes.push(Change::Stature((cm != 0.0).then_some(cm / 100.0)));
        }
        if let Some(hz) = self.capture_rate_hz {
            let view = self.view(now)?.view;
            changes.push(Change::CaptureRate(view, (hz != 0.0).then_some(hz)));
        }
        if !self.seen.is_empty() {
            let nothing = self.seen == ["nothing"];
            let seen = self.seen.iter().filter(|_| !nothing).cloned();
            changes.push(Change::Seen(seen.collect()));
        }
        for &(name, time_s) in &self.moment {
            changes.push(Change::Moment(self.view(now)?.view, name, time_s));
        }
        for &(name, frames) in &self.nudge {
            changes.push(Change::Nudge(self.view(now)?.view, name, frames));
        }
        for &name in &self.as_found {
            changes.push(Change::MomentAsFound(self.view(now)?.view, name));
        }
        for at in &self.joint {
            let report = self.view(now)?;
            changes.push(Change::Joint(report.view, at.placed(report.width_px)));
        }
        ensure!(
            !changes.is_empty(),
            "what is to be corrected? say --nudge, --moment, --joint, --stature-cm, \
             --capture-rate-hz, --seen or --undo"
        );
        Ok(changes)
    }

    fn view<'a>(&self, now: &'a SwingAnalysis) -> Result<&'a ViewReport> {
        let wanted: Option<View> = self.view.map(Into::into);
        match (wanted, &now.views[..]) {
            (None, [only]) => Ok(only),
            (None, _) => {
                bail!("this swing has two views: say --view face-on or --view down-the-line")
            }
            (Some(view), views) => views
                .iter()
                .find(|report| report.view == view)
                .with_context(|| format!("this swing has no clip {view}")),
        }
    }
}

impl JointAt {
    fn placed(&self, picture_width_px: u32) -> PlacedJoint {
        PlacedJoint {
            joint: self.joint,
            frame: self.frame,
            x_px: self.x_px,
            y_px: self.y_px,
            picture_width_px,
        }
    }
}

/// Corrections from a file.
pub fn read(file: &Path) -> Result<Corrections> {
    let text =
        std::fs::read_to_string(file).with_context(|| format!("reading {}", file.display()))?;
    serde_json::from_str(&text)
        .with_context(|| format!("{} holds no corrections as JSON", file.display()))
}

/// A moment or joint by its name in the JSON; dashes and blanks count as underscores.
fn named<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    let name = text.trim().replace(['-', ' '], "_");
    serde_json::from_value(serde_json::Value::String(name)).map_err(|error| error.to_string())
}

fn moment_number(text: &str) -> Result<(MomentName, f64), String> {
    let (name, number) = text
        .split_once('=')
        .ok_or("a moment and a number are wanted, such as top=+2")?;
    Ok((named(name)?, finite(number)?))
}

fn joint_at(text: &str) -> Result<JointAt, String> {
    let wanted = "a joint, a frame and a place are wanted, such as left_knee@93=512,900";
    let (joint, rest) = text.split_once('@').ok_or(wanted)?;
    let (frame, place) = rest.split_once('=').ok_or(wanted)?;
    let (x, y) = place.split_once(',').ok_or(wanted)?;
    Ok(JointAt {
        joint: named(joint)?,
        frame: frame
            .trim()
            .parse()
            .map_err(|_| format!("\"{frame}\" is no frame's number, from 0"))?,
        x_px: finite(x)?,
        y_px: finite(y)?,
    })
}

fn finite(text: &str) -> Result<f64, String> {
    let number = text.trim().parse().ok().filter(|n: &f64| n.is_finite());
    number.ok_or_else(|| format!("\"{text}\" is no number"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_read_or_refused_with_what_is_wanted() {
        assert_eq!(moment_number("top=+2"), Ok((MomentName::Top, 2.0)));
        assert_eq!(
            moment_number("lead-arm-level-down=-1"),
            Ok((MomentName::LeadArmLevelDown, -1.0))
        );
        let knee = JointAt {
            joint: Joint::LeftKnee,
            frame: 93,
            x_px: 512.0,
            y_px: 900.5,
        };
        assert_eq!(joint_at("left_knee@93=512,900.5"), Ok(knee));
        for (refused, said) in [
            (moment_number("top").map(|_| ()), "such as top=+2"),
            (moment_number("topp=1").map(|_| ()), "lead_arm_level_down"),
            (moment_number("top=nan").map(|_| ()), "no number"),
            (joint_at("knee@93=1,2").map(|_| ()), "left_knee"),
            (
                joint_at("left_knee@-1=1,2").map(|_| ()),
                "no frame's number",
            ),
            (
                joint_at("left_knee@1=1").map(|_| ()),
                "left_knee@93=512,900",
            ),
        ] {
            let error = refused.expect_err(said);
            assert!(error.contains(said), "{error}");
        }
    }
}
