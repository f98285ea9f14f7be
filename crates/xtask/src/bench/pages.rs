//! How long the studio's pages take with years of players in it: an invented studio (`lessonwright seed`), served by
//! the real binary, asked by `wrk` (a Debian package) over loopback.

use crate::shell::{self, built, root};
use anyhow::{Context, Result, ensure};
use std::fmt::Write;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Instant;

/// The goal: the 95th percentile and the first page after the studio was opened, ms.
const GOAL_MS: f64 = 60.0;

/// Two askers at once: a professional with a tablet and a laptop open.
const ASKERS: usize = 2;

/// So long each kind of page is asked for, s.
const ASK_S: usize = 8;

/// Seeds a studio unless there is one, and prints the table.
pub fn print_table(players: usize) -> Result<()> {
    shell::build()?;
    let folder = root().join(format!("target/bench-pages-{players}"));
    if !folder.join("lessonwright.db").exists() {
        let players = players.to_string();
        shell::run(
            built("lessonwright")
                .args(["seed", "--players", &players, "--studio"])
                .arg(&folder),
        )?;
    }
    let mut studio = Studio::open(&folder)?;
    let script = folder.join("pages.lua");
    println!(
        "| page | p50 ms | p95 ms | slowest ms | pages/s | first ms |\n|---|---|---|---|---|---|"
    );
    let mut slow = Vec::new();
    for (kind, paths) in kinds(players) {
        let begun = Instant::now();
        studio.ask_once(&paths[0])?;
        let first_ms = begun.elapsed().as_secs_f64() * 1e3;
        std::fs::write(&script, lua(&paths)?)?;
        let [p50, p95, most, rate] = studio.ask(&script)?;
        println!("| {kind} | {p50:.1} | {p95:.1} | {most:.0} | {rate:.0} | {first_ms:.0} |");
        if p95.max(first_ms) > GOAL_MS {
            slow.push(kind);
        }
    }
    studio.server.kill()?;
    studio.server.wait()?;
    ensure!(
        slow.is_empty(),
        "slower than {GOAL_MS} ms: {}",
        slow.join(", ")
    );
    Ok(())
}

/// Every kind of page with addresses spread over the studio; lessons are those with a page of real size.
fn kinds(players: usize) -> Vec<(&'static str, Vec<String>)> {
    const ASKED: usize = 100;
    let spread = |of: usize, address: &dyn Fn(usize) -> String| -> Vec<String> {
        (0..ASKED).map(|n| address(1 + (n * 37) % of)).collect()
    };
    let words = [
        "to",
        "hal",
        "søren",
        "soren grøn",
        "lndqvist",
        "bump the",
        "pelvis",
        "eisen",
        "grip better",
        "swing 77",
        "a",
    ];
    let words = words.map(|word| format!("/search?for={}", escaped(word)));
    vec![
        ("Today", vec!["/".into()]),
        (
            "Players, any page",
            spread(players.div_ceil(50), &|n| format!("/players?page={n}")),
        ),
        (
            "Players, filtered",
            vec!["/players?named=hal".into(), "/players?named=slice".into()],
        ),
        ("a player", spread(players, &|n| format!("/players/{n}"))),
        ("a swing", spread(players * 20, &|n| format!("/swings/{n}"))),
        ("search", words.into()),
        (
            "a player's progress",
            spread(players, &|n| format!("/players/{n}/progress")),
        ),
        ("everybody's progress", vec!["/progress".into()]),
        (
            "a lesson",
            spread(players.min(200), &|n| format!("/lessons/{n}")),
        ),
        ("bring clips in", vec!["/bring-in".into()]),
        (
            "frame by frame",
            spread(players * 20, &|n| format!("/swings/{n}/bench")),
        ),
        (
            "a player's settings",
            spread(players, &|n| format!("/players/{n}/settings")),
        ),
        ("the studio's settings", vec!["/studio/settings".into()]),
        ("drills", vec!["/drills".into()]),
        ("Studio", vec!["/studio".into()]),
        ("Studio, all players", vec!["/studio?all=yes".into()]),
    ]
}

/// A word in an address (RFC 3986, section 2.3).
fn escaped(word: &str) -> String {
    let one = |byte: u8| match byte.is_ascii_alphanumeric() {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    };
    word.bytes().map(one).collect()
}

/// What tells wrk the addresses, and has it print percentiles that it does not print by itself, µs.
fn lua(paths: &[String]) -> Result<String> {
    let mut text = String::from("local paths = {");
    for path in paths {
        write!(text, "{path:?}, ")?;
    }
    text += "}\nlocal n = 0\n\
        request = function() n = n + 1; return wrk.format('GET', paths[n % #paths + 1]) end\n\
        done = function(all, took, each)\n\
          local e = all.errors\n\
          print(string.format('told %d %d %d %f %d', took:percentile(50), took:percentile(95), took.max,\n\
            1e6 * all.requests / all.duration, e.connect + e.read + e.write + e.status + e.timeout))\n\
        end\n";
    Ok(text)
}

struct Studio {
    server: Child,
    address: String,
}

impl Studio {
    fn open(folder: &Path) -> Result<Studio> {
        let mut server = built("lessonwright")
            .args(["open", "--port", "0", "--studio"])
            .arg(folder)
            .stdout(Stdio::piped())
            .spawn()?;
        let said = server.stdout.take().context("the studio's words")?;
        let mut line = String::new();
        BufReader::new(said).read_line(&mut line)?;
        let address = line
            .split_whitespace()
            .find(|word| word.starts_with("http://"));
        let address = address
            .context("the studio did not say its address")?
            .trim_end_matches('/');
        Ok(Studio {
            address: address.to_owned(),
            server,
        })
    }

    fn ask_once(&self, path: &str) -> Result<()> {
        let url = format!("{}{path}", self.address);
        shell::run(Command::new("curl").args(["-sf", "-o", "/dev/null", &url]))
    }

    /// Median, 95th percentile and slowest, ms, and answers a second.
    fn ask(&self, script: &PathBuf) -> Result<[f64; 4]> {
        let output = Command::new("wrk")
            .args([
                "-t1",
                &format!("-c{ASKERS}"),
                &format!("-d{ASK_S}s"),
                "--timeout",
                "30s",
                "-s",
            ])
            .arg(script)
            .arg(&self.address)
            .output()
            .context("wrk is needed: apt-get install wrk")?;
        let text = String::from_utf8_lossy(&output.stdout);
        let told = text.lines().find_map(|line| line.strip_prefix("told "));
        let told = told.with_context(|| format!("wrk said:\n{text}"))?;
        let numbers: Vec<f64> = told.split(' ').map(str::parse).collect::<Result<_, _>>()?;
        let [p50, p95, most, rate, errors] = numbers[..] else {
            anyhow::bail!("wrk said: {told}");
        };
        ensure!(errors == 0.0, "{errors} answers were no pages");
        Ok([p50 / 1e3, p95 / 1e3, most / 1e3, rate])
    }
}
