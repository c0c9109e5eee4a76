//! Faces made of lines: one value in, one line out.

pub mod rehearse;
