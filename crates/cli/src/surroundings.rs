//! What the binary takes from the machine around it: folders, programs, cores, the clock.

use crate::arguments::Places;
use crate::progress::Listener;
use anyhow::{Context, Result};
use lessonwright_media::Tools;
use lessonwright_model::home::home_folder;
use lessonwright_vision::{ClubNetwork, Correction, ModelFiles, Networks};
use std::path::PathBuf;

/// Where things lie and what may be used.
#[derive(Clone)]
pub struct Surroundings {
    /// The studio's folder.
    pub studio: PathBuf,
    networks: PathBuf,
    threads: usize,
    /// ffmpeg and ffprobe.
    pub tools: Tools,
    /// Who is told how far the work is.
    pub listener: Listener,
}

impl Surroundings {
    /// Look around. Cheap: nothing is loaded yet.
    pub fn find(places: &Places) -> Result<Surroundings> {
        let home = || {
            home_folder(|name| std::env::var_os(name))
                .context("no home folder is set; name folders with --studio and --networks")
        };
        let or_home = |stated: &Option<PathBuf>| stated.clone().map_or_else(home, Ok);
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        Ok(Surroundings {
            studio: or_home(&places.studio)?,
            networks: or_home(&places.networks)?,
            threads: places.threads.unwrap_or(cores),
            tools: Tools::locate(None)?,
            listener: Listener::default(),
        })
    }

    /// The same, with how far the work is told to this listener.
    pub fn telling(&self, listener: Listener) -> Surroundings {
        Surroundings {
            listener,
            ..self.clone()
        }
    }

    /// Load both networks.
    pub fn load_networks(&self) -> Result<Networks> {
        Ok(Networks::load(
            &ModelFiles::in_folder(&self.networks),
            self.threads,
        )?)
    }

    /// Load the network that sees the club.
    pub fn load_club(&self) -> Result<ClubNetwork> {
        let files = ModelFiles::in_folder(&self.networks);
        Ok(ClubNetwork::load(&files.runtime, self.threads)?)
    }

    /// Load the network that moves landmarks to joint centres.
    pub fn load_correction(&self) -> Result<Correction> {
        let files = ModelFiles::in_folder(&self.networks);
        Ok(Correction::load(&files.runtime, self.threads)?)
    }
}
