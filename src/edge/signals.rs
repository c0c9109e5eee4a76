//! Signals as messages, and the way to end by one after the terminal was given back.
//!
//! Handlers only note the signal; a thread of its own passes it on. Elsewhere than on Unix there are none of these.

use std::io;
use std::sync::mpsc::Sender;

use super::run::Message;

/// A signal, by its number on this system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signal(pub i32);

/// Listens to signals until it is dropped.
#[cfg(unix)]
pub(super) struct Listener {
    handle: signal_hook::iterator::Handle,
    thread: Option<std::thread::JoinHandle<()>>,
}

#[cfg(unix)]
impl Listener {
    /// Sends each signal that ends, stops or continues the program as a message.
    pub(super) fn start(sender: Sender<Message>) -> io::Result<Self> {
        use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP};
        let mut signals = signal_hook::iterator::Signals::new([
            SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGTSTP, SIGCONT,
        ])?;
        let handle = signals.handle();
        let thread = std::thread::Builder::new()
            .name("signals".to_owned())
            .spawn(move || {
                for signal in signals.forever() {
                    let message = match signal {
                        SIGTSTP => Message::Stop,
                        SIGCONT => Message::Continued,
                        other => Message::End(Signal(other)),
                    };
                    if sender.send(message).is_err() {
                        return;
                    }
                }
            })?;
        Ok(Self {
            handle,
            thread: Some(thread),
        })
    }
}

#[cfg(unix)]
impl Drop for Listener {
    fn drop(&mut self) {
        self.handle.close();
        if let Some(thread) = self.thread.take() {
            // A thread that panicked has nothing more to say.
            drop(thread.join());
        }
    }
}

/// Stops the process until it is continued. The terminal must have been given back.
#[cfg(unix)]
pub(super) fn sleep() -> io::Result<()> {
    // Not TSTP: its handler is ours, and in an orphaned process group it would be dropped.
    signal_hook::low_level::raise(signal_hook::consts::SIGSTOP)
}

/// Ends the process by the signal, so that its parent sees how it ended. To be called last, when everything is
/// closed and the terminal given back. Returns only where the system does not let it happen.
#[cfg(unix)]
pub fn end_by(signal: Signal) {
    // If it fails the caller's exit code must do.
    drop(signal_hook::low_level::emulate_default_handler(signal.0));
}

/// There are no such signals here.
#[cfg(not(unix))]
pub(super) struct Listener;

#[cfg(not(unix))]
impl Listener {
    pub(super) fn start(_sender: Sender<Message>) -> io::Result<Self> {
        Ok(Self)
    }
}

/// There is no such sleep here.
#[cfg(not(unix))]
pub(super) fn sleep() -> io::Result<()> {
    Ok(())
}

/// There are no such signals here.
#[cfg(not(unix))]
pub fn end_by(_signal: Signal) {}
