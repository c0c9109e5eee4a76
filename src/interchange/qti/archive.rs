//! Files put together in one zip that depends on their names and bytes and on nothing else: no clock, no machine, no version of a
//! compressor.

use std::io::{Cursor, Write};

use zip::write::{SimpleFileOptions, ZipWriter};
use zip::{CompressionMethod, DateTime, System};

use super::File;

/// The files could not be put together.
#[derive(Debug, thiserror::Error)]
#[error("the file {name} cannot be put into the package: {source}")]
pub struct ArchiveError {
    /// File of the package at which it failed.
    name: String,
    source: zip::result::ZipError,
}

/// A zip of these files in this order.
///
/// # Errors
/// [`ArchiveError`] if there is more than a zip can hold.
pub fn archive(files: &[File]) -> Result<Vec<u8>, ArchiveError> {
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(DateTime::DEFAULT)
        .system(System::Unix)
        .unix_permissions(0o644);
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for file in files {
        let failed = |source| ArchiveError {
            name: file.name.clone(),
            source,
        };
        zip.start_file(&file.name, options).map_err(failed)?;
        zip.write_all(&file.bytes)
            .map_err(|error| failed(error.into()))?;
    }
    let done = zip.finish().map_err(|source| ArchiveError {
        name: "list of files".to_owned(),
        source,
    })?;
    Ok(done.into_inner())
}
