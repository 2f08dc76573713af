//! What went wrong, in words that say how to mend it.

use std::io;
use std::path::Path;

use notebook::StoreError;
use rusqlite::ErrorCode;

/// Trouble that the database tells of.
#[expect(clippy::needless_pass_by_value, reason = "an error is given away when it is told")]
pub(crate) fn told(error: rusqlite::Error) -> StoreError {
    use rusqlite::Error as E;
    let code = error.sqlite_error_code();
    match code {
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
            StoreError::Damaged(format!("the log of this studio is hurt ({error})"))
        }
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked | ErrorCode::FileLockingProtocolFailed) => {
            StoreError::Disk("another program held it for too long; close that one and try again".into())
        }
        Some(ErrorCode::DiskFull) => StoreError::Disk("the disk is full; make room and try again, nothing was written".into()),
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::CannotOpen) => {
            StoreError::Disk(format!("{error}; give yourself the right to write in that folder, or choose another one"))
        }
        _ if matches!(
            error,
            E::FromSqlConversionFailure(..)
                | E::IntegralValueOutOfRange(..)
                | E::Utf8Error(..)
                | E::InvalidColumnType(..)
                | E::QueryReturnedNoRows
                | E::SqlInputError { .. }
        ) =>
        {
            StoreError::Damaged(format!("something in the log of this studio can't be read ({error})"))
        }
        _ => StoreError::Disk(error.to_string()),
    }
}

/// Trouble with a file or a folder.
pub(crate) fn at(path: &Path) -> impl FnOnce(io::Error) -> StoreError + '_ {
    move |error| {
        let mend = match error.kind() {
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                "; give yourself the right to write there, or choose another folder"
            }
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "; make room and try again",
            io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => "; choose another folder",
            _ => "",
        };
        StoreError::Disk(format!("{}: {error}{mend}", path.display()))
    }
}
