//! The lesson desk: from a measured swing to the lesson that the player gets. What is worked on, the drill and its dose, the
//! pictures and the professional's words, a voice over the swing; then the lesson as it will be read, its approval, and
//! everything in one file.
//!
//! Each form is kept as soon as it is sent; the lesson is drafted again behind it. The page is whole without scripts; its scripts
//! (`scripts/desk`) send the forms by themselves and record the voice.

mod drafts;
mod files;
mod forms;
mod page;
mod routes;

pub use drafts::Drafts;
pub(crate) use routes::{desk_address, routes};
