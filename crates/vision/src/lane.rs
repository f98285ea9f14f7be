//! Landmark networks that work side by side, each on a thread of its own.
//!
//! Two networks of one thread each see more pictures a second than one network of two threads,
//! and the rest of the work on a picture runs beside the other's network.

use crate::error::VisionError;
use crate::joints::JointNetwork;
use crate::landmarks::{BodyNetwork, Refinement, SeenBody};
use crate::region::Square;
use lessonwright_model::Picture;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;

/// What to look at.
#[derive(Clone, Debug)]
pub(crate) struct Question {
    pub(crate) picture: Arc<Picture>,
    pub(crate) square: Square,
    pub(crate) refinement: Refinement,
    /// Look for joint centres too.
    pub(crate) joints: bool,
}

type Answer = Result<SeenBody, VisionError>;

/// An answer under way.
#[derive(Debug)]
pub(crate) struct Pending(Receiver<Answer>);

/// A landmark network and a joint network on their thread. It answers in the order in which it is asked.
#[derive(Debug)]
pub(crate) struct Lane {
    /// `None` only while the lane is dropped.
    questions: Option<Sender<(Question, Sender<Answer>)>>,
    thread: Option<JoinHandle<()>>,
}

impl Lane {
    pub(crate) fn start(mut landmarks: BodyNetwork, mut joints: JointNetwork) -> Self {
        let (questions, received) = channel::<(Question, Sender<Answer>)>();
        let thread = std::thread::spawn(move || {
            for (question, answer) in received {
                let seen = answered(&mut landmarks, &mut joints, &question);
                // Nobody waits any more when a tracker was dropped early.
                drop(answer.send(seen));
            }
        });
        Lane {
            questions: Some(questions),
            thread: Some(thread),
        }
    }

    /// Asks; the answer is worked out while the caller goes on.
    pub(crate) fn ask(&self, question: Question) -> Pending {
        let (sender, receiver) = channel();
        if let Some(questions) = &self.questions {
            // A lane whose thread is gone shows when the answer is waited for.
            drop(questions.send((question, sender)));
        }
        Pending(receiver)
    }
}

fn answered(landmarks: &mut BodyNetwork, joints: &mut JointNetwork, question: &Question) -> Answer {
    let Question {
        picture,
        square,
        refinement,
        ..
    } = question;
    let mut seen = landmarks.look(picture, square, *refinement)?;
    if question.joints {
        seen.landmarks.joint_centres = joints.look(picture, &seen.landmarks)?;
    }
    Ok(seen)
}

impl Pending {
    /// Waits for the answer.
    pub(crate) fn wait(self) -> Answer {
        self.0.recv().unwrap_or(Err(VisionError::Stopped))
    }
}

impl Drop for Lane {
    fn drop(&mut self) {
        // Without a sender the thread's loop ends.
        self.questions = None;
        if let Some(thread) = self.thread.take() {
            // A panic in the thread has been printed there.
            drop(thread.join());
        }
    }
}
