//! What is set for the studio, without a binary around it: changes are checked as far as the tables can be, and kept in memory.

use lessonwright_coaching::{CauseTable, DrillPage, LinkChanges, Targets};
use lessonwright_store::SwingId;
use lessonwright_web::keeping::Answer;
use lessonwright_web::own::{InUse, JudgedAnew, OwnChange, OwnTrade, WouldChange};
use std::sync::{Arc, Mutex};

#[derive(Clone, Default)]
pub struct SampleOwn {
    /// What was made, in order.
    pub made: Arc<Mutex<Vec<OwnChange>>>,
}

impl OwnTrade for SampleOwn {
    fn in_use(&self) -> Result<InUse, String> {
        let drills = self
            .made
            .lock()
            .unwrap()
            .iter()
            .filter_map(|change| match change {
                OwnChange::Drill { key, text, .. } => Some((key.clone(), text.clone())),
                _ => None,
            })
            .collect();
        Ok(InUse {
            targets: Targets::standard(),
            own_targets: Targets::parse("own.toml", "").unwrap(),
            causes: CauseTable::standard(),
            changes: LinkChanges::default(),
            own_drills: drills,
        })
    }

    fn would_change(&self, change: OwnChange) -> Answer<WouldChange> {
        let checked = checked(&change);
        Box::pin(async move {
            checked?;
            Ok(WouldChange {
                looked_at: 5,
                swings: vec![JudgedAnew {
                    swing: SwingId(2),
                    player: "Tobias Wren".into(),
                    first: [Some("Move the lower body first".into()), None],
                    order: Default::default(),
                }],
            })
        })
    }

    fn make(&self, change: OwnChange) -> Answer<()> {
        let made = Arc::clone(&self.made);
        Box::pin(async move {
            checked(&change)?;
            made.lock().unwrap().push(change);
            Ok(())
        })
    }

    fn shown_anew(&self) -> Answer<()> {
        Box::pin(async { Ok(()) })
    }
}

fn checked(change: &OwnChange) -> Result<(), String> {
    match change {
        OwnChange::Target { low, high, .. } if low >= high => {
            Err("low is not below high: swap or change them".into())
        }
        OwnChange::Drill { key, text, .. } => match DrillPage::parse(key, text) {
            Ok(_) => Ok(()),
            Err(error) => Err(error.to_string()),
        },
        _ => Ok(()),
    }
}
