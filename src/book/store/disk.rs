//! What the disk has to do with a book: who may read its files, how much room there is, whether it
//! is on another machine, which temporary files are next to it.

use std::io;
use std::path::{Path, PathBuf};

/// Kinds of file system on which several machines may write: the write-ahead log is made for one
/// machine alone (<https://www.sqlite.org/wal.html>, "Overview", <https://www.sqlite.org/useovernet.html>).
const NETWORK: &[&str] = &[
    "nfs",
    "nfs4",
    "cifs",
    "smb",
    "smb2",
    "smb3",
    "smbfs",
    "ncpfs",
    "afs",
    "ceph",
    "gfs2",
    "ocfs2",
    "lustre",
    "davfs",
    "fuse.sshfs",
    "fuse.rclone",
    "fuse.davfs2",
    "fuse.glusterfs",
    "fuse.s3fs",
    "fuse.gvfsd-fuse",
];

/// Kinds that are shared between a machine and the one it runs inside of: safe only while one of
/// the two works in the book.
const SHARED: &[&str] = &["9p", "virtiofs", "drvfs", "vboxsf", "fuse.vmhgfs-fuse"];

/// Bytes of a list of mounts, as a rule.
const MOUNTS: usize = 1 << 15;

/// Kind of the drive that holds a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Drive {
    /// A drive of this machine, or an unknown one.
    Own,
    /// A network drive; its file system.
    Network(String),
    /// A drive shared with the host of a virtual machine; its file system.
    Shared(String),
}

/// Returns the sort of drive a path lies on, going by the text of `/proc/self/mountinfo`.
pub(crate) fn drive_in(mounts: &str, path: &Path) -> Drive {
    let mut longest: Option<(usize, &str)> = None;
    for line in mounts.lines() {
        let Some((before, after)) = line.split_once(" - ") else {
            continue;
        };
        let (Some(point), Some(kind)) = (before.split(' ').nth(4), after.split(' ').next()) else {
            continue;
        };
        let point = PathBuf::from(unescaped(point));
        let depth = point.components().count();
        // The last of several mounts at one point is the one in force.
        if path.starts_with(&point) && longest.is_none_or(|(d, _)| depth >= d) {
            longest = Some((depth, kind));
        }
    }
    match longest {
        Some((_, kind)) if NETWORK.contains(&kind) => Drive::Network(kind.to_owned()),
        Some((_, kind)) if SHARED.contains(&kind) => Drive::Shared(kind.to_owned()),
        _ => Drive::Own,
    }
}

/// Blanks, tabs, line ends and backslashes are written there as three octal digits.
fn unescaped(text: &str) -> String {
    [
        ("\\040", " "),
        ("\\011", "\t"),
        ("\\012", "\n"),
        ("\\134", "\\"),
    ]
    .iter()
    .fold(text.to_owned(), |t, (from, to)| t.replace(from, to))
}

/// Returns the sort of drive a file lies on, or will lie on.
pub(crate) fn drive_of(path: &Path) -> Drive {
    // The size of such a file is not known beforehand; the system makes up the list again for every
    // piece of it that is asked for.
    let mut mounts = String::with_capacity(MOUNTS);
    let read = std::fs::File::open("/proc/self/mountinfo")
        .and_then(|mut file| io::Read::read_to_string(&mut file, &mut mounts));
    if read.is_err() {
        return Drive::Own;
    }
    let there = path
        .canonicalize()
        .or_else(|_| directory_of(path).canonicalize());
    there.map_or(Drive::Own, |there| drive_in(&mounts, &there))
}

/// The directory a file lies in.
pub(crate) fn directory_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Returns a path with an ending put after its whole name.
pub(crate) fn side_file(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    name.into()
}

/// Returns how many bytes are free for this user where a path lies.
#[cfg(unix)]
pub(crate) fn free_bytes(path: &Path) -> io::Result<u64> {
    let there = rustix::fs::statvfs(path)?;
    Ok(there.f_bavail.saturating_mul(there.f_frsize))
}

/// Free space is not read on this system.
#[cfg(not(unix))]
pub fn free_bytes(_path: &Path) -> io::Result<u64> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Returns the permissions of a file when other users have any; `None` when there are none or
/// there is no such file.
#[cfg(unix)]
pub(crate) fn open_to_others(path: &Path) -> Option<u32> {
    use std::os::unix::fs::PermissionsExt;
    let mode = std::fs::metadata(path).ok()?.permissions().mode() & 0o777;
    (mode & 0o077 != 0).then_some(mode)
}

/// Permissions are not checked on this system.
#[cfg(not(unix))]
pub fn open_to_others(_path: &Path) -> Option<u32> {
    None
}

/// Whether in a directory that others may write in names are still their owners' (sticky bit).
#[cfg(unix)]
pub(crate) fn keeps_names(directory: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    std::fs::metadata(directory).is_ok_and(|m| m.permissions().mode() & 0o1000 != 0)
}

/// Permissions are not checked on this system.
#[cfg(not(unix))]
pub fn keeps_names(_directory: &Path) -> bool {
    true
}

/// Removes all permissions of other users.
#[cfg(unix)]
pub(crate) fn close_to_others(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let mode = std::fs::metadata(path)?.permissions().mode() & 0o700;
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode))
}

/// Permissions are not checked on this system.
#[cfg(not(unix))]
pub fn close_to_others(_path: &Path) -> io::Result<()> {
    Ok(())
}

/// Puts a file's content on the disk. Never for a file that SQLite has open here: closing it would
/// drop SQLite's locks (<https://www.sqlite.org/howtocorrupt.html>, section 2.2).
pub(crate) fn flush_file(path: &Path) -> io::Result<()> {
    std::fs::OpenOptions::new()
        .read(true)
        .write(true)
        .open(path)?
        .sync_all()
}

/// Flushes a directory, so that renames in it are on the disk.
#[cfg(unix)]
pub(crate) fn flush_directory(path: &Path) -> io::Result<()> {
    match std::fs::File::open(path)?.sync_all() {
        // Some drives, a stick among them, do not know the request.
        Err(e)
            if matches!(
                e.kind(),
                io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported
            ) =>
        {
            Ok(())
        }
        done => done,
    }
}

/// Names are put on the disk by the system itself.
#[cfg(not(unix))]
pub fn flush_directory(_path: &Path) -> io::Result<()> {
    Ok(())
}

/// Identity of the file at a path; `None` where it cannot be read.
#[cfg(unix)]
pub(crate) fn identity(path: &Path) -> Option<(u64, u64)> {
    use std::os::unix::fs::MetadataExt;
    std::fs::metadata(path).ok().map(|m| (m.dev(), m.ino()))
}

/// Whether a file, or the directory it lies in, may not be written to.
#[cfg(unix)]
pub(crate) fn is_write_protected(path: &Path) -> bool {
    use rustix::fs::{Access, access};
    let there = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let may = |p: &Path| access(p, Access::WRITE_OK).is_ok();
    access(&there, Access::READ_OK).is_ok() && !(may(&there) && may(directory_of(&there)))
}

/// Whether a file is protected is only known when it is written to on this system.
#[cfg(not(unix))]
pub fn is_write_protected(_path: &Path) -> bool {
    false
}

/// Which file a path leads to cannot be said on this system.
#[cfg(not(unix))]
pub fn identity(_path: &Path) -> Option<(u64, u64)> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const MOUNTS: &str = "\
22 27 0:21 / / rw,relatime - ext4 /dev/sda1 rw
30 22 0:40 / /mnt/share rw,relatime shared:1 - cifs //server/share rw
31 22 0:41 / /mnt/my\\040drive rw,relatime - fuse.sshfs me@host: rw
32 30 0:42 / /mnt/share/own rw,relatime - ext4 /dev/sdb1 rw
33 22 0:43 / /c rw,relatime - 9p drvfs rw
34 22 0:44 / /over rw - nfs4 host:/x rw
35 22 0:45 / /over rw - tmpfs tmpfs rw
";

    #[test]
    fn a_drive_is_told_by_the_longest_mount_above_the_file() {
        let on = |path: &str| drive_in(MOUNTS, Path::new(path));
        assert_eq!(on("/home/me/book.db"), Drive::Own);
        assert_eq!(on("/mnt/share/book.db"), Drive::Network("cifs".to_owned()));
        assert_eq!(on("/mnt/sharebook.db"), Drive::Own);
        assert_eq!(on("/mnt/share/own/book.db"), Drive::Own);
        assert_eq!(
            on("/mnt/my drive/book.db"),
            Drive::Network("fuse.sshfs".to_owned())
        );
        assert_eq!(on("/c/book.db"), Drive::Shared("9p".to_owned()));
        assert_eq!(on("/over/book.db"), Drive::Own, "the later mount hides");
        assert_eq!(drive_in("nonsense\n - \n", Path::new("/a")), Drive::Own);
    }
}
