//! What is corrected by hand in a swing, in words, and the forms that correct.

use crate::by_hand::Addresses;
use crate::{Tickable, Trade};
use lessonwright_language::{Text, t, words};
use lessonwright_model::{Corrections, Hand, PlacedJoint, SwingAnalysis, View};
use lessonwright_store::SwingId;

/// The forms of a swing that can be analysed again.
pub struct ByHand {
    pub addresses: Addresses,
    /// What is corrected now, a line each.
    pub lines: Vec<Text>,
    pub can_undo: bool,
    /// As it is filled in: empty where nothing is corrected.
    pub stature_cm: String,
    pub rates: Vec<Rate>,
    /// What can be ticked, part by part of the swing.
    pub parts: Vec<Ticks>,
}

/// Facts to tick of one part of the swing.
pub struct Ticks {
    pub part: Text,
    pub boxes: Vec<Tick>,
    /// One of them is ticked.
    pub any: bool,
}

/// A box to tick.
pub struct Tick {
    pub key: String,
    pub says: String,
    pub ticked: bool,
}

/// The capture rate of one clip.
pub struct Rate {
    pub view: View,
    /// The view's name in a form.
    pub key: &'static str,
    /// Frames a second as they count now.
    pub now_hz: f64,
    /// As it is filled in.
    pub corrected: String,
}

impl ByHand {
    pub fn of(id: SwingId, analysis: &SwingAnalysis, trade: &Trade, can_undo: bool) -> ByHand {
        let corrections = &analysis.corrections;
        let rate_of = |view| corrections.of(view).and_then(|c| c.capture_rate_hz);
        ByHand {
            addresses: Addresses::of(id),
            lines: lines(corrections, trade, analysis.views.first().map(|v| v.hand)),
            parts: parts(corrections, trade),
            can_undo,
            stature_cm: corrections
                .stature_m
                .map_or_else(String::new, |m| format!("{}", round(m * 100.0))),
            rates: analysis
                .views
                .iter()
                .map(|report| Rate {
                    view: report.view,
                    key: key(report.view),
                    now_hz: report.capture_rate_hz,
                    corrected: rate_of(report.view)
                        .map_or_else(String::new, |hz| format!("{}", round(hz))),
                })
                .collect(),
        }
    }
}

/// A view's name in a form and in the JSON.
pub fn key(view: View) -> &'static str {
    match view {
        View::FaceOn => "face_on",
        View::DownTheLine => "down_the_line",
    }
}

fn round(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

fn parts(corrections: &Corrections, trade: &Trade) -> Vec<Ticks> {
    let tick = |fact: &Tickable| Tick {
        key: fact.key.clone(),
        says: fact.says.clone(),
        ticked: corrections.seen.contains(&fact.key),
    };
    trade
        .tickable
        .chunk_by(|a, b| a.part == b.part)
        .map(|facts| {
            let boxes: Vec<Tick> = facts.iter().map(tick).collect();
            Ticks {
                part: facts[0].part.clone(),
                any: boxes.iter().any(|one| one.ticked),
                boxes,
            }
        })
        .collect()
}

fn lines(corrections: &Corrections, trade: &Trade, hand: Option<Hand>) -> Vec<Text> {
    let mut lines = Vec::new();
    for key in &corrections.seen {
        let fact = trade.tickable.iter().find(|fact| fact.key == *key);
        let says = fact.map_or(key.as_str(), |fact| &fact.says);
        lines.push(t("swing-corrected-seen").with("says", says));
    }
    if let Some(stature_m) = corrections.stature_m {
        let stature = Text::figure(round(stature_m * 100.0).to_string());
        lines.push(t("swing-corrected-stature").with("stature", stature));
    }
    for (view, clip) in &corrections.clips {
        if let Some(rate_hz) = clip.capture_rate_hz {
            let rate = Text::figure(round(rate_hz).to_string());
            lines.push(seen_in("swing-corrected-rate", *view).with("rate", rate));
        }
        for (name, time_s) in &clip.moments {
            lines.push(
                seen_in("swing-corrected-moment", *view)
                    .with("moment", words::moment(*name))
                    .with("time", Text::decimal(*time_s, 3)),
            );
        }
        let placed = clip.joints.iter();
        lines.extend(placed.map(|placed| joint(*view, placed, hand)));
    }
    lines
}

fn joint(view: View, placed: &PlacedJoint, hand: Option<Hand>) -> Text {
    let side = match (placed.joint.plain().split(' ').next(), hand) {
        (Some("left"), Some(Hand::Right)) | (Some("right"), Some(Hand::Left)) => {
            "swing-corrected-joint-lead"
        }
        (Some("left"), Some(Hand::Left)) | (Some("right"), Some(Hand::Right)) => {
            "swing-corrected-joint-trail"
        }
        _ => "swing-corrected-joint",
    };
    seen_in(side, view)
        .with("joint", words::joint(placed.joint))
        .with("frame", placed.frame)
}

fn seen_in(id: &'static str, view: View) -> Text {
    t(id).with("view", words::view(view))
}
