//! A terminal around the real binary: what it draws, what it is sent, how it is left. Nothing waits by the clock, only for what must come.

#![cfg(unix)]

use std::io::{Read as _, Write};
use std::path::Path;
use std::process::Command;
use std::sync::{Arc, Condvar, Mutex};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, ExitStatus, MasterPty, PtySize, native_pty_system};

/// How long anything may take on a machine that is busy with other things.
const PATIENCE: Duration = Duration::from_secs(20);

/// What has come from the program so far.
#[derive(Default)]
struct Seen {
    parser: vt100::Parser,
    bytes: Vec<u8>,
    ended: bool,
    /// The reader is to let go of the terminal.
    closing: bool,
}

/// The program in a terminal of its own.
pub(crate) struct Pty {
    master: Option<Box<dyn MasterPty + Send>>,
    writer: Option<Box<dyn Write + Send>>,
    child: Box<dyn Child + Send + Sync>,
    reader: Option<JoinHandle<()>>,
    seen: Arc<(Mutex<Seen>, Condvar)>,
    modes: String,
}

impl Pty {
    /// Starts `luxate` at 80x24 with its data in this folder.
    pub(crate) fn start(data: &Path, arguments: &[&str], variables: &[(&str, &str)]) -> Self {
        let pair = native_pty_system().openpty(size(80, 24)).unwrap();
        let modes = format!("{:?}", pair.master.get_termios());
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_luxate"));
        command.args(arguments);
        command.env_clear();
        let set = [
            ("TERM", "xterm-256color"),
            ("TZ", "UTC"),
            ("LUXATE_NOW", "2027-03-02T19:30:00Z"),
        ];
        for (name, value) in set.iter().chain(variables) {
            command.env(name, value);
        }
        command.env("LUXATE_DATA", data);
        command.env("HOME", data);
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let seen = Arc::new((
            Mutex::new(Seen {
                parser: vt100::Parser::new(24, 80, 0),
                ..Seen::default()
            }),
            Condvar::new(),
        ));
        let mut source = pair.master.try_clone_reader().unwrap();
        let shared = Arc::clone(&seen);
        let reader = thread::spawn(move || {
            let mut buffer = [0; 4096];
            loop {
                let read = source.read(&mut buffer).unwrap_or(0);
                let (seen, news) = &*shared;
                let mut seen = seen.lock().unwrap();
                let bytes = buffer.get(..read).unwrap_or_default();
                seen.parser.process(bytes);
                seen.bytes.extend_from_slice(bytes);
                seen.ended = read == 0;
                news.notify_all();
                if read == 0 || seen.closing {
                    return;
                }
            }
        });
        let writer = Some(pair.master.take_writer().unwrap());
        Self {
            master: Some(pair.master),
            writer,
            child,
            reader: Some(reader),
            seen,
            modes,
        }
    }

    /// Waits until the screen fulfils this, and returns its text.
    pub(crate) fn until(&self, what: &str, test: impl Fn(&vt100::Screen) -> bool) -> String {
        let deadline = Instant::now() + PATIENCE;
        let (seen, news) = &*self.seen;
        let mut seen = seen.lock().unwrap();
        loop {
            let screen = seen.parser.screen();
            if test(screen) {
                return screen.contents();
            }
            let left = deadline.saturating_duration_since(Instant::now());
            assert!(
                !left.is_zero() && !seen.ended,
                "waited in vain for {what:?} on\n{}",
                screen.contents()
            );
            seen = news.wait_timeout(seen, left).unwrap().0;
        }
    }

    /// Waits for a text on the screen.
    pub(crate) fn wait(&self, text: &str) -> String {
        self.until(text, |screen| screen.contents().contains(text))
    }

    pub(crate) fn press(&mut self, keys: &str) {
        let writer = self.writer.as_mut().unwrap();
        writer.write_all(keys.as_bytes()).unwrap();
        writer.flush().unwrap();
    }

    pub(crate) fn resize(&self, width: u16, height: u16) {
        self.seen
            .0
            .lock()
            .unwrap()
            .parser
            .screen_mut()
            .set_size(height, width);
        self.master
            .as_ref()
            .unwrap()
            .resize(size(width, height))
            .unwrap();
    }

    /// Sends a signal by name; by the shell, since a bare machine may have no other way.
    pub(crate) fn signal(&self, name: &str) {
        let command = format!("kill -s {name} {}", self.child.process_id().unwrap());
        assert!(
            Command::new("sh")
                .args(["-c", &command])
                .status()
                .unwrap()
                .success()
        );
    }

    /// Waits until the process is stopped by a signal.
    pub(crate) fn until_stopped(&self) {
        let id = self.child.process_id().unwrap();
        let deadline = Instant::now() + PATIENCE;
        while !is_stopped(id) {
            assert!(Instant::now() < deadline, "not stopped");
            thread::sleep(Duration::from_millis(5));
        }
    }

    /// Waits until the terminal is as the program found it: ordinary screen, cursor, pasting and line modes.
    pub(crate) fn until_as_found(&self) {
        self.until("the ordinary screen", is_ordinary);
        let modes = format!("{:?}", self.master.as_ref().unwrap().get_termios());
        assert_eq!(modes, self.modes);
    }

    /// Closes the window while the program runs.
    pub(crate) fn close(&mut self) {
        self.seen.0.lock().unwrap().closing = true;
        // The reader holds the terminal too, and looks up only when something comes.
        self.press("\u{c}");
        self.reader.take().unwrap().join().unwrap();
        self.writer = None;
        self.master = None;
    }

    /// Waits for the end of the program.
    pub(crate) fn end(&mut self) -> ExitStatus {
        let deadline = Instant::now() + PATIENCE;
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status;
            }
            assert!(Instant::now() < deadline, "the program does not end");
            thread::sleep(Duration::from_millis(5));
        }
    }

    /// Waits for the end and for the last that was drawn; returns all bytes that came.
    pub(crate) fn last(&mut self) -> (ExitStatus, Vec<u8>) {
        let status = self.end();
        self.until_as_found();
        self.reader.take().unwrap().join().unwrap();
        (status, self.seen.0.lock().unwrap().bytes.clone())
    }

    /// Any cell of the screen that fulfils this.
    pub(crate) fn any_cell(&self, test: impl Fn(&vt100::Cell) -> bool) -> bool {
        let seen = self.seen.0.lock().unwrap();
        let screen = seen.parser.screen();
        (0..24).any(|row| (0..80).any(|column| screen.cell(row, column).is_some_and(&test)))
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        // A test that failed must not leave its program behind.
        drop(self.child.kill());
    }
}

/// Whether a process is stopped: from `/proc` where there is one, otherwise from `ps`.
fn is_stopped(id: u32) -> bool {
    let stat = std::fs::read_to_string(format!("/proc/{id}/stat")).unwrap_or_else(|_| {
        let output = Command::new("ps")
            .args(["-o", "state=", "-p", &id.to_string()])
            .output()
            .unwrap();
        String::from_utf8(output.stdout).unwrap()
    });
    // The state is the first word, in `/proc` after the name in brackets.
    stat.rsplit(')')
        .next()
        .is_some_and(|state| state.trim_start().starts_with('T'))
}

fn is_ordinary(screen: &vt100::Screen) -> bool {
    !screen.alternate_screen()
        && !screen.hide_cursor()
        && !screen.bracketed_paste()
        && screen.mouse_protocol_mode() == vt100::MouseProtocolMode::None
}

fn size(width: u16, height: u16) -> PtySize {
    PtySize {
        rows: height,
        cols: width,
        pixel_width: 0,
        pixel_height: 0,
    }
}
