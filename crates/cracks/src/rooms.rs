//! Room to work in, used again by whichever thread comes next: fresh memory costs as much as a good part of the work.

use std::sync::Mutex;

/// As many as ever were in use at once.
#[derive(Default)]
pub(crate) struct Rooms<T>(Mutex<Vec<T>>);

impl<T: Default> Rooms<T> {
    /// What a task makes of a room that nobody else is in. It may hold what an earlier task left.
    pub(crate) fn with<R>(&self, task: impl FnOnce(&mut T) -> R) -> R {
        let free = self.0.lock().ok().and_then(|mut rooms| rooms.pop());
        let mut room = free.unwrap_or_default();
        let out = task(&mut room);
        if let Ok(mut rooms) = self.0.lock() {
            rooms.push(room);
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::Rooms;

    #[test]
    fn a_room_is_used_again() {
        let rooms: Rooms<Vec<u8>> = Rooms::default();
        rooms.with(|room| room.push(1));
        // One inside of another is a second room.
        let (one, two) = rooms.with(|room| {
            room.push(2);
            (room.len(), rooms.with(|other| other.len()))
        });
        assert_eq!((one, two), (2, 0));
    }
}
