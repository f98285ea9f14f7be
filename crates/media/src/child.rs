//! A child process under limits: address space, processor time, files written (none, as a rule),
//! and a deadline whenever somebody waits for it. Killed on cancel and on drop.

use lessonwright_model::Cancel;
use std::io::{self, Read, Write};
use std::process::{Child, ChildStderr, ChildStdin, ChildStdout, Command, ExitStatus, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

/// What a child may use.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limits {
    /// Address space, bytes. Counts mapped libraries and thread stacks, not only memory in use.
    pub address_space_bytes: u64,
    /// Processor time of all its threads, s.
    pub processor_s: u64,
    /// Longest wait for it, s.
    pub wait_s: u64,
    /// Largest file it may write, bytes; 0 for one that answers through pipes.
    pub written_bytes: u64,
}

/// Why a child was stopped from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stopped {
    Cancelled,
    TimedOut,
}

/// A running child. Its error output is read by a thread of its own, so it never blocks on it.
pub(crate) struct Worker {
    shared: Arc<Shared>,
    /// Until all was fed.
    stdin: Option<ChildStdin>,
    stdout: ChildStdout,
    messages: Option<JoinHandle<String>>,
    /// Dropped to tell the watcher that the child is no longer of interest.
    _alive: mpsc::Sender<()>,
    wait: Duration,
}

struct Shared {
    child: Mutex<Child>,
    deadline: Mutex<Option<Instant>>,
    stopped: Mutex<Option<Stopped>>,
}

/// How soon a cancel or a passed deadline is noticed.
const WATCH_PERIOD: Duration = Duration::from_millis(25);
/// Error output kept for messages, bytes; the rest is read and dropped.
const KEPT_MESSAGES_BYTES: usize = 8 * 1024;
/// A longer line is cut here, bytes. ffmpeg's own lines stay below 1 KiB.
const LONGEST_LINE_BYTES: usize = 4 * 1024;

impl Worker {
    /// Starts `command` with no input and both outputs piped. `on_line` sees each line of the error
    /// output and says whether to keep it for messages.
    ///
    /// # Errors
    /// The system's, if the program can't be started.
    pub fn start(
        mut command: Command,
        limits: Limits,
        cancel: &Cancel,
        on_line: impl FnMut(&str) -> bool + Send + 'static,
    ) -> io::Result<Worker> {
        command.stdin(Stdio::null());
        Worker::spawn(command, limits, cancel, on_line)
    }

    /// The same, with its input piped: see [`Worker::feed`].
    ///
    /// # Errors
    /// As [`Worker::start`].
    pub fn start_fed(
        mut command: Command,
        limits: Limits,
        cancel: &Cancel,
        on_line: impl FnMut(&str) -> bool + Send + 'static,
    ) -> io::Result<Worker> {
        command.stdin(Stdio::piped());
        Worker::spawn(command, limits, cancel, on_line)
    }

    fn spawn(
        mut command: Command,
        limits: Limits,
        cancel: &Cancel,
        on_line: impl FnMut(&str) -> bool + Send + 'static,
    ) -> io::Result<Worker> {
        command
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .env("AV_LOG_FORCE_NOCOLOR", "1");
        apply_limits(&mut command, limits);
        let mut child = command.spawn()?;
        let (Some(stdout), Some(stderr)) = (child.stdout.take(), child.stderr.take()) else {
            unreachable!("both outputs were asked to be piped");
        };
        let stdin = child.stdin.take();
        let shared = Arc::new(Shared {
            child: Mutex::new(child),
            deadline: Mutex::new(None),
            stopped: Mutex::new(None),
        });
        let (alive, gone) = mpsc::channel();
        let (watched, cancel) = (Arc::clone(&shared), cancel.clone());
        thread::spawn(move || watch(&watched, &cancel, &gone));
        Ok(Worker {
            shared,
            stdin,
            stdout,
            messages: Some(thread::spawn(move || read_messages(stderr, on_line))),
            _alive: alive,
            wait: Duration::from_secs(limits.wait_s),
        })
    }

    /// Gives it input.
    ///
    /// # Errors
    /// The system's: a child that has ended or was stopped takes no more.
    pub fn feed(&mut self, bytes: &[u8]) -> io::Result<()> {
        let Some(stdin) = &mut self.stdin else {
            return Err(io::ErrorKind::BrokenPipe.into());
        };
        *locked(&self.shared.deadline) = Some(Instant::now() + self.wait);
        let fed = stdin.write_all(bytes);
        *locked(&self.shared.deadline) = None;
        fed
    }

    /// Tells it that there is no more input.
    pub fn end_input(&mut self) {
        self.stdin = None;
    }

    /// Fills `buffer`; returns how many bytes came before the child's output ended.
    ///
    /// # Errors
    /// The system's. A child that was stopped looks like one whose output ended: see
    /// [`Worker::stopped`].
    pub fn read_full(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        *locked(&self.shared.deadline) = Some(Instant::now() + self.wait);
        let mut filled = 0;
        while filled < buffer.len() {
            match self.stdout.read(&mut buffer[filled..]) {
                Ok(0) => break,
                Ok(count) => filled += count,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
        *locked(&self.shared.deadline) = None;
        Ok(filled)
    }

    /// Reads everything up to `most` bytes; one byte more is an error of kind `FileTooLarge`.
    ///
    /// # Errors
    /// The system's.
    pub fn read_all(&mut self, most: usize) -> io::Result<Vec<u8>> {
        *locked(&self.shared.deadline) = Some(Instant::now() + self.wait);
        let mut bytes = Vec::new();
        let count = (&mut self.stdout)
            .take(most as u64 + 1)
            .read_to_end(&mut bytes)?;
        *locked(&self.shared.deadline) = None;
        if count > most {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        Ok(bytes)
    }

    /// Why it was stopped from outside, if it was.
    pub fn stopped(&self) -> Option<Stopped> {
        *locked(&self.shared.stopped)
    }

    /// Waits for its end once its output has ended; its status and kept messages.
    ///
    /// # Errors
    /// The system's.
    pub fn finish(&mut self) -> io::Result<(ExitStatus, String)> {
        *locked(&self.shared.deadline) = Some(Instant::now() + self.wait);
        let status = loop {
            // The lock is let go between tries so that the watcher can still kill.
            if let Some(status) = locked(&self.shared.child).try_wait()? {
                break status;
            }
            thread::sleep(Duration::from_millis(1));
        };
        *locked(&self.shared.deadline) = None;
        let messages = self.messages.take().map(JoinHandle::join);
        Ok((status, messages.and_then(Result::ok).unwrap_or_default()))
    }

    /// Its process number, for measuring it.
    pub fn id(&self) -> u32 {
        locked(&self.shared.child).id()
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        kill(&self.shared);
    }
}

/// Ends the child and collects it; no harm if it has ended already.
fn kill(shared: &Shared) {
    let mut child = locked(&shared.child);
    if !matches!(child.try_wait(), Ok(Some(_))) {
        // An error here means that it has just ended by itself.
        let _ = child.kill();
        let _ = child.wait();
    }
}

fn watch(shared: &Shared, cancel: &Cancel, gone: &mpsc::Receiver<()>) {
    loop {
        let late = locked(&shared.deadline).is_some_and(|deadline| Instant::now() > deadline);
        if cancel.is_cancelled() || late {
            let why = match cancel.is_cancelled() {
                true => Stopped::Cancelled,
                false => Stopped::TimedOut,
            };
            *locked(&shared.stopped) = Some(why);
            kill(shared);
            return;
        }
        if gone.recv_timeout(WATCH_PERIOD) != Err(RecvTimeoutError::Timeout) {
            return;
        }
    }
}

/// Reads lines to the end; returns the last of those that `keep` asked for.
fn read_messages(mut stderr: ChildStderr, mut keep: impl FnMut(&str) -> bool) -> String {
    let mut kept = String::new();
    let mut line = Vec::new();
    let mut buffer = [0; 8 * 1024];
    while let Ok(count) = stderr.read(&mut buffer) {
        for &byte in &buffer[..count] {
            if byte != b'\n' && byte != b'\r' {
                if line.len() < LONGEST_LINE_BYTES {
                    line.push(byte);
                }
                continue;
            }
            let text = String::from_utf8_lossy(&line);
            if keep(&text) {
                kept.push_str(&text);
                kept.push('\n');
                drop_oldest_lines(&mut kept);
            }
            line.clear();
        }
        if count == 0 {
            break;
        }
    }
    kept
}

fn drop_oldest_lines(kept: &mut String) {
    while kept.len() > KEPT_MESSAGES_BYTES {
        match kept.find('\n') {
            Some(end) => drop(kept.drain(..=end)),
            None => kept.clear(),
        }
    }
}

/// A poisoned lock is taken over: what it guards is a plain value that is always whole.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(unix)]
#[expect(
    unsafe_code,
    reason = "limits must be set in the child, between fork and exec"
)]
fn apply_limits(command: &mut Command, limits: Limits) {
    use std::os::unix::process::CommandExt;
    let set = move || {
        let wanted = [
            (libc::RLIMIT_AS, limits.address_space_bytes),
            (libc::RLIMIT_CPU, limits.processor_s),
            (libc::RLIMIT_FSIZE, limits.written_bytes),
            (libc::RLIMIT_CORE, 0),
        ];
        for (resource, most) in wanted {
            let mut limit = libc::rlimit {
                rlim_cur: 0,
                rlim_max: 0,
            };
            // SAFETY: `getrlimit` writes one `rlimit` through a pointer valid for the call.
            if unsafe { libc::getrlimit(resource, &mut limit) } != 0 {
                return Err(io::Error::last_os_error());
            }
            // A limit somebody set on us stays where it is lower; raising it is not allowed.
            limit.rlim_max = limit.rlim_max.min(most as libc::rlim_t);
            limit.rlim_cur = limit.rlim_max;
            // SAFETY: `setrlimit` reads one `rlimit` through a pointer valid for the call.
            if unsafe { libc::setrlimit(resource, &limit) } != 0 && cfg!(target_os = "linux") {
                // macOS refuses some address space limits; the other limits still hold there.
                return Err(io::Error::last_os_error());
            }
        }
        Ok(())
    };
    // SAFETY: between fork and exec the closure only calls `getrlimit` and `setrlimit` and reads `errno`,
    // plain system calls on Linux and macOS, and it neither allocates nor takes a lock.
    unsafe {
        command.pre_exec(set);
    }
}

#[cfg(not(unix))]
fn apply_limits(_command: &mut Command, _limits: Limits) {}

#[cfg(test)]
#[cfg(unix)]
mod tests {
    use super::*;

    const LIMITS: Limits = Limits {
        address_space_bytes: 512 << 20,
        processor_s: 20,
        wait_s: 20,
        written_bytes: 0,
    };

    /// Runs a shell line to its end.
    fn run(line: &str, limits: Limits) -> (bool, String, Option<Stopped>) {
        let mut command = Command::new("sh");
        command.args(["-c", line]);
        let mut worker = Worker::start(command, limits, &Cancel::default(), |_| true).unwrap();
        worker.read_all(1 << 20).unwrap();
        let (status, messages) = worker.finish().unwrap();
        (status.success(), messages, worker.stopped())
    }

    #[test]
    fn each_limit_ends_what_exceeds_it() {
        let within = run("echo fine >&2", LIMITS);
        assert_eq!(within, (true, "fine\n".to_owned(), None));
        // `dd` asks for one buffer of the block size.
        let memory = run("dd if=/dev/zero of=/dev/null bs=1G count=1", LIMITS);
        assert!(!memory.0, "{memory:?}");
        let processor = Limits {
            processor_s: 1,
            ..LIMITS
        };
        assert!(!run("while :; do :; done", processor).0);
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("written");
        let written = run(&format!("echo much > {}", file.display()), LIMITS);
        assert!(!written.0, "{written:?}");
        assert_eq!(std::fs::read(&file).unwrap_or_default(), b"");
    }

    #[test]
    fn a_child_that_does_not_answer_is_stopped() {
        let limits = Limits {
            wait_s: 1,
            ..LIMITS
        };
        let begun = Instant::now();
        let (success, _, stopped) = run("exec sleep 60", limits);
        assert!(!success && stopped == Some(Stopped::TimedOut));
        assert!(begun.elapsed() < Duration::from_secs(10));
    }

    #[test]
    fn more_output_than_allowed_is_an_error_and_messages_are_bounded() {
        let mut command = Command::new("sh");
        command.args(["-c", "yes | head -c 3000000"]);
        let mut worker = Worker::start(command, LIMITS, &Cancel::default(), |_| true).unwrap();
        let error = worker.read_all(1 << 20).unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::FileTooLarge);
        drop(worker);
        let (_, messages, _) = run("yes message | head -n 100000 >&2; echo last >&2", LIMITS);
        assert!(messages.len() <= KEPT_MESSAGES_BYTES);
        assert!(messages.ends_with("message\nlast\n"));
        let (_, one_line, _) = run("head -c 1000000 /dev/zero >&2; echo >&2", LIMITS);
        assert!(one_line.len() <= LONGEST_LINE_BYTES + 1);
    }
}
