//! The full-screen front end from outside: keys, views, and the real thing in a terminal.

#[cfg(test)]
mod decks;
#[cfg(test)]
mod desk;
#[cfg(test)]
mod keys;
#[cfg(test)]
mod kinds;
#[cfg(all(test, unix))]
#[path = "../support/met.rs"]
mod met;
#[cfg(test)]
mod pictures;
#[cfg(test)]
mod pty;
mod queries;
#[cfg(test)]
mod shown;
#[cfg(test)]
mod terminal;
#[cfg(test)]
mod views;
#[cfg(test)]
mod watched;
