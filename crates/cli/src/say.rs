//! An analysis as text for a person at a terminal.

use lessonwright_model::measure::table;
use lessonwright_model::units::inches;
use lessonwright_model::{
    ClipFacts, Measure, MeasureState, MomentName, Ranking, RateSource, ShownBy, SwingAnalysis,
    SwingWindow, Unit, View,
};
use std::fmt::Write;

/// The whole analysis, a screenful.
pub fn analysis(swing: &SwingAnalysis) -> String {
    let mut text = String::new();
    // Writing to a String cannot fail.
    let _ = write_analysis(&mut text, swing);
    text
}

fn write_analysis(text: &mut String, swing: &SwingAnalysis) -> std::fmt::Result {
    for view in &swing.views {
        write!(
            text,
            "{}: {}, {}, {:.0} frames/s",
            view.clip, view.view, view.hand, view.rate_hz
        )?;
        if (view.capture_rate_hz / view.rate_hz - 1.0).abs() > 0.05 {
            write!(text, " (filmed at {:.0})", view.capture_rate_hz)?;
        }
        writeln!(text)?;
        for warning in &view.warnings {
            writeln!(text, "  note: {warning}")?;
        }
        for placed in swing
            .corrections
            .of(view.view)
            .iter()
            .flat_map(|c| &c.joints)
        {
            let joint = placed.joint.plain();
            writeln!(text, "  {joint} placed by hand in frame {}", placed.frame)?;
        }
        for moment in swing.moments.iter().filter(|m| m.view == view.view) {
            let (name, time) = (moment.name.plain(), moment.time_s);
            let by_hand = if moment.by_hand { ", set by hand" } else { "" };
            writeln!(
                text,
                "  {name:30} {time:7.3} s ± {:.3}{by_hand}",
                moment.plus_minus_s
            )?;
        }
    }
    writeln!(text)?;
    write_measures(text, &swing.measures)?;
    writeln!(text)?;
    match &swing.priority {
        None => {}
        Some(priority) => {
            writeln!(text, "Work on: {}", priority.title)?;
            for link in &priority.chain {
                writeln!(text, "  - {link}")?;
            }
            writeln!(text, "  {}", priority.would_change_it)?;
        }
    }
    write_ranking(text, &swing.ranking)?;
    if let Some(drill) = swing.drills.first() {
        writeln!(text, "Drill: {} – {}", drill.title, drill.feel)?;
        writeln!(
            text,
            "  Cue: {} (or: {})",
            drill.cue_outward, drill.cue_inward
        )?;
        writeln!(text, "  Checkpoint: {}", drill.checkpoint)?;
    }
    if let Some(notice) = &swing.notice {
        writeln!(text, "{notice}")?;
    }
    if let Some(prescription) = &swing.prescription {
        writeln!(text, "Dose: {}", prescription.dose)?;
        for caution in &prescription.cautions {
            writeln!(text, "Caution: {caution}")?;
        }
    }
    Ok(())
}

/// How many candidates are shown with their reasons; the others take a line each.
const WITH_REASONS: usize = 3;

/// What could be worked on, in order, and why.
fn write_ranking(text: &mut String, ranking: &Ranking) -> std::fmt::Result {
    if ranking.candidates.is_empty() && ranking.set_aside.is_empty() {
        return Ok(());
    }
    writeln!(
        text,
        "What could be worked on, in order (a probability under a rule, no measured frequency; {:.0} % kept for \
         what nobody has seen; causes: {})",
        100.0 * ranking.unseen,
        ranking.table
    )?;
    for (at, candidate) in ranking.candidates.iter().enumerate() {
        let seen = match candidate.shown_by {
            ShownBy::Measure => "",
            ShownBy::Professional => ", as you saw",
        };
        let percent = 100.0 * candidate.probability;
        writeln!(
            text,
            "  {}. {}: {percent:.0} %{seen}",
            at + 1,
            candidate.title
        )?;
        if at < WITH_REASONS {
            let chain: Vec<&str> = candidate.chain.iter().map(|s| s.short.as_str()).collect();
            writeln!(text, "     {}", chain.join(" → "))?;
            for reason in &candidate.why {
                writeln!(text, "     - {reason}")?;
            }
        }
    }
    for aside in &ranking.set_aside {
        writeln!(text, "  set aside: {}: {}", aside.title, aside.why)?;
    }
    for note in &ranking.notes {
        writeln!(text, "  note: {note}")?;
    }
    Ok(())
}

/// The table of measures, part by part of the body.
fn write_measures(text: &mut String, measures: &[Measure]) -> std::fmt::Result {
    for (part, lines) in table(measures) {
        writeln!(text, "{}", part.title())?;
        for line in lines {
            let title = match line {
                [only] => title(only),
                several => several[0].name.plain().to_owned(),
            };
            writeln!(text, "  {title:58} {}", value(&line[0]))?;
        }
    }
    Ok(())
}

/// A measure's name in plain English, with its moments.
fn title(measure: &Measure) -> String {
    let name = measure.name.plain();
    match measure.against {
        _ if measure.name.is_timing() => name.to_owned(),
        Some(against) => format!("{name}, {} from {}", short(measure.moment), short(against)),
        None => format!("{name}, {}", short(measure.moment)),
    }
}

fn short(moment: MomentName) -> &'static str {
    match moment {
        MomentName::ShaftLevelBack => "shaft level back",
        MomentName::ShaftLevelDown => "shaft level down",
        MomentName::LeadArmLevelBack => "arm level back",
        MomentName::LeadArmLevelDown => "arm level down",
        other => other.plain(),
    }
}

/// A measure's value with its ± and direction, or why there is none.
fn value(measure: &Measure) -> String {
    let (Some(value), Some(low), Some(high)) = (measure.value, measure.low, measure.high) else {
        let why = match measure.state {
            MeasureState::NotMeasurableFromThisView => "cannot be measured from this view",
            _ => "not measured",
        };
        return format!("{why}: {}", measure.reason);
    };
    let from = measure
        .view
        .map(|view| format!(" ({})", seen(view)))
        .unwrap_or_default();
    let [plus, minus] = measure.name.directions();
    let direction = if value < 0.0 { minus } else { plus };
    let half = amount(0.5 * (high - low), measure.unit);
    let direction = match measure.unit {
        Unit::One => ": 1",
        _ => direction,
    };
    let number = format!("{} {direction}", amount(value.abs(), measure.unit));
    format!("{} ± {half}{from}", number.trim_end())
}

/// A size in its unit, lengths in both systems.
fn amount(size: f64, unit: Unit) -> String {
    match unit {
        Unit::Centimetre => format!("{size:.1} cm ({:.1} in)", inches(size)),
        Unit::Degree => format!("{size:.0}°"),
        Unit::Second => format!("{size:.2} s"),
        Unit::One => format!("{size:.1}"),
        Unit::Percent => format!("{size:.0} %"),
    }
}

fn seen(view: View) -> &'static str {
    match view {
        View::FaceOn => "face-on",
        View::DownTheLine => "down the line",
    }
}

/// Facts of a clip and the swings in it.
pub fn clip(facts: &ClipFacts, warnings: &[String], swings: &[SwingWindow]) -> String {
    let mut text = format!(
        "{}: {} {} bit, {} × {} px upright, {:.1} s, {} frames at {:.2} frames/s{}{}\n",
        facts.name,
        facts.codec,
        facts.bit_depth,
        facts.width_px,
        facts.height_px,
        facts.duration_s,
        facts.frame_times_s.len(),
        facts.rate_hz,
        if facts.variable_rate {
            ", variable rate"
        } else {
            ""
        },
        if facts.has_sound {
            ", with sound"
        } else {
            ", without sound"
        },
    );
    let source = match facts.capture_rate_source {
        RateSource::Stated => "as you say",
        RateSource::Metadata => "as the file says",
        RateSource::Container => {
            "as nothing says otherwise; for slow motion state --capture-rate-hz"
        }
    };
    text += &format!(
        "  filmed at {:.2} frames/s, {source}\n",
        facts.capture_rate_hz
    );
    for warning in warnings {
        text += &format!("  note: {warning}\n");
    }
    for (number, swing) in swings.iter().enumerate() {
        let heard = if swing.strike.is_some() {
            "strike heard"
        } else {
            "no strike heard"
        };
        text += &format!(
            "  swing {}: {:.2} s to {:.2} s, impact near {:.2} s, {heard}\n",
            number + 1,
            swing.start_s,
            swing.end_s,
            swing.impact_guess_s
        );
    }
    text
}
