//! The phones' door: the second address, the code that is shown, who was seen.

use std::collections::HashMap;
use std::net::{IpAddr, SocketAddr};
use std::pin::Pin;
use std::sync::{Arc, Mutex};

use axum::Router;
use workbench::{Moment, Phone, Studio};

use super::keys::{DoorError, random, short_code};
use super::pairing::{Given, Pairing, Stage, Told, Turned};
use super::{host, locked};

/// Listens for phones; the program that has the sockets does it.
pub trait Ear: std::fmt::Debug + Send + Sync {
    /// Address of this computer in the house, if it has one. Nothing is sent to find it.
    fn house(&self) -> Option<IpAddr>;

    /// Listens at this address and serves these pages there, until it is closed. One at a time: close an open ear first.
    ///
    /// # Errors
    /// Nobody can listen there; the sentence says why.
    fn open(&self, at: IpAddr, pages: Router) -> Result<Heard, String>;

    /// Listens no more. When this is done nobody is there: its place can be taken, and who knocks is turned away.
    fn close(&self) -> Silence;
}

/// Done when an ear has closed.
pub type Silence = Pin<Box<dyn Future<Output = ()> + Send>>;

/// Where an ear listens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Heard {
    /// Address and port.
    pub at: SocketAddr,
    /// The usual port, if it was taken.
    pub taken: Option<u16>,
}

/// Why nothing can be shared.
#[derive(Debug, thiserror::Error)]
pub enum ShareError {
    /// No house network.
    #[error("no address of a house network was found; say this computer's own, like 192.168.1.20 (its network settings show it)")]
    NoAddress,
    /// Not an address.
    #[error("\u{201c}{0}\u{201d} is no address; say it like 192.168.1.20")]
    Address(String),
    /// An address that more than the house may reach.
    #[error("{0} is no address of a house network, so more than your house may reach it; say one like 192.168.1.20")]
    NotHouse(IpAddr),
    /// Not a name of a computer.
    #[error("\u{201c}{0}\u{201d} is no name of a computer; say it like studio.local, with letters, figures, hyphens and points")]
    Name(String),
    /// Nobody can listen there.
    #[error("{0}")]
    Listen(String),
    /// The system gives no random numbers.
    #[error(transparent)]
    Chance(#[from] DoorError),
    /// Nothing is shared.
    #[error("nothing is shared just now; say first that you want it on your phone")]
    Closed,
    /// Too many wrong codes.
    #[error("there were {0} wrong codes since you began to share; stop sharing, and look who else is on your Wi-Fi")]
    Guessing(u32),
}

/// Wrong tries in all, since sharing began, after which no more codes are made: five dead codes.
const MOST_WRONG: u32 = 25;

/// Longest name of a computer, as one label of the net's names.
const MOST_NAME: usize = 63;

/// Sharing with phones, for this run of the program.
#[derive(Debug)]
pub(crate) struct Share {
    ear: Arc<dyn Ear>,
    line: Mutex<Option<Line>>,
    /// Held while it opens or closes, one hand after the other.
    turn: tokio::sync::Mutex<()>,
}

/// The open second address.
#[derive(Debug)]
struct Line {
    heard: Heard,
    /// Host headers that are ours; the first is the one that is shown.
    hosts: Vec<String>,
    cookie: String,
    offer: Option<Offer>,
    wrong: u32,
    /// Phones by their subject: name, and when they last asked for something.
    seen: HashMap<String, (String, Moment)>,
}

/// A code, and the studio that it leads to.
#[derive(Debug)]
struct Offer {
    pairing: Pairing,
    studio: Arc<Studio>,
}

/// What the desk's page shows of it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Shared {
    /// Address that a phone opens, without the secret.
    pub(crate) address: String,
    /// The same by number, where `address` holds a name.
    pub(crate) by_number: Option<String>,
    /// The usual port, if it was taken.
    pub(crate) taken: Option<u16>,
    /// Code of this studio.
    pub(crate) code: Option<Code>,
    /// Wrong tries since sharing began.
    pub(crate) wrong: u32,
    /// Phones by subject: name, and when they last asked for something.
    pub(crate) seen: HashMap<String, (String, Moment)>,
}

/// A code and what became of it.
#[derive(Debug, Clone)]
pub(crate) struct Code {
    pub(crate) id: String,
    pub(crate) secret: String,
    pub(crate) short: String,
    pub(crate) until: i64,
    pub(crate) stage: Stage,
}

impl Share {
    pub(crate) fn new(ear: Arc<dyn Ear>) -> Self {
        Self { ear, line: Mutex::default(), turn: tokio::sync::Mutex::default() }
    }

    /// Address of this computer in the house, if it has one that no more than the house can reach.
    pub(crate) fn house(&self) -> Option<IpAddr> {
        self.ear.house().filter(is_house)
    }

    /// Opens the second address; gives what a phone opens.
    pub(crate) async fn open(&self, at: IpAddr, name: Option<String>, pages: Router) -> Result<String, ShareError> {
        if !is_house(&at) {
            return Err(ShareError::NotHouse(at));
        }
        let _turn = self.turn.lock().await;
        self.shut().await;
        // Held over the opening, so that the first who knocks finds its names there.
        let mut line = locked(&self.line);
        let heard = self.ear.open(at, pages).map_err(ShareError::Listen)?;
        let port = heard.at.port();
        // Bracketed if it is one of the long addresses.
        let number = if at.is_ipv6() { format!("[{at}]") } else { at.to_string() };
        let hosts: Vec<String> = name.into_iter().chain(std::iter::once(number)).map(|name| host(&name, port)).collect();
        let address = pair_address(&hosts);
        // Cookies know no ports (RFC 6265, 8.5), so the name carries it.
        *line = Some(Line { heard, hosts, cookie: format!("gp_{port}"), offer: None, wrong: 0, seen: HashMap::new() });
        Ok(address)
    }

    /// Ends sharing; when it is done nobody listens. Keys stay good for the next time.
    pub(crate) async fn close(&self) {
        let _turn = self.turn.lock().await;
        self.shut().await;
    }

    async fn shut(&self) {
        *locked(&self.line) = None;
        self.ear.close().await;
    }

    /// Name of the phones' cookie, if this Host header is one of ours.
    pub(super) fn cookie_at(&self, host: &str) -> Option<String> {
        locked(&self.line).as_ref().filter(|line| line.hosts.iter().any(|known| known == host)).map(|line| line.cookie.clone())
    }

    /// Name of the phones' cookie.
    pub(crate) fn cookie(&self) -> Option<String> {
        locked(&self.line).as_ref().map(|line| line.cookie.clone())
    }

    /// Notes that a phone asked for something.
    pub(super) fn saw(&self, phone: &Phone, now: Moment) {
        if let Some(line) = locked(&self.line).as_mut() {
            line.seen.insert(phone.subject.clone(), (phone.name.clone(), now));
        }
    }

    /// What the desk's page shows in this studio; nothing where nothing is shared.
    pub(crate) fn shared(&self, studio: &Arc<Studio>, now: i64) -> Option<Shared> {
        let line = locked(&self.line);
        let line = line.as_ref()?;
        let code = line.offer.as_ref().filter(|offer| Arc::ptr_eq(&offer.studio, studio)).map(|Offer { pairing, .. }| Code {
            id: pairing.id.clone(),
            secret: pairing.secret.clone(),
            short: pairing.code.clone(),
            until: pairing.until(),
            stage: pairing.stage(now),
        });
        Some(Shared {
            address: pair_address(&line.hosts),
            by_number: line.hosts.get(1).map(|host| format!("http://{host}/pair")),
            taken: line.heard.taken,
            code,
            wrong: line.wrong,
            seen: line.seen.clone(),
        })
    }

    /// Shows a fresh code that leads into this studio; an older one is good no more.
    pub(crate) fn offer(&self, studio: &Arc<Studio>, now: i64) -> Result<(), ShareError> {
        let pairing = Pairing::new(random()?, random()?, short_code()?, now);
        let mut line = locked(&self.line);
        let line = line.as_mut().ok_or(ShareError::Closed)?;
        if line.wrong >= MOST_WRONG {
            return Err(ShareError::Guessing(line.wrong));
        }
        line.offer = Some(Offer { pairing, studio: Arc::clone(studio) });
        Ok(())
    }

    /// A phone knocks; gives the ticket by which it is known until it has its key.
    pub(crate) fn knock(&self, given: Given<'_>, name: &str, now: i64) -> Result<String, Turned> {
        // Made first: a code must not be used up for nothing.
        let ticket = random().map_err(|_| Turned::NoCode)?;
        let mut line = locked(&self.line);
        let line = line.as_mut().ok_or(Turned::NoCode)?;
        let offer = line.offer.as_mut().ok_or(Turned::NoCode)?;
        let alive = offer.pairing.stage(now) == Stage::Offered;
        let heard = offer.pairing.knock(given, name, ticket.clone(), now);
        if alive && heard.is_err() {
            line.wrong += 1;
        }
        heard.map(|()| ticket)
    }

    /// The desk says yes or no to the knock of this code.
    pub(crate) fn answer(&self, id: &str, yes: bool, now: i64) {
        if let Some(offer) = locked(&self.line).as_mut().and_then(|line| line.offer.as_mut()).filter(|offer| offer.pairing.id == id) {
            offer.pairing.answer(yes, now);
        }
    }

    /// What the phone with this ticket is told.
    pub(crate) fn told(&self, ticket: &str, now: i64) -> Told {
        let line = locked(&self.line);
        line.as_ref().and_then(|line| line.offer.as_ref()).map_or(Told::No, |offer| offer.pairing.told(ticket, now))
    }

    /// The phone with this ticket picks up what the desk promised: its name and its studio, once.
    pub(crate) fn pick_up(&self, ticket: &str, now: i64) -> Option<(String, Arc<Studio>)> {
        let mut line = locked(&self.line);
        let offer = line.as_mut()?.offer.as_mut()?;
        let name = offer.pairing.pick_up(ticket, now)?;
        Some((name, Arc::clone(&offer.studio)))
    }
}

fn pair_address(hosts: &[String]) -> String {
    hosts.first().map_or_else(String::new, |host| format!("http://{host}/pair"))
}

/// Whether no more than this computer and its house can reach an address: RFC 1918, RFC 3927, RFC 4193, and loopback.
fn is_house(address: &IpAddr) -> bool {
    match address {
        IpAddr::V4(address) => address.is_private() || address.is_link_local() || address.is_loopback(),
        IpAddr::V6(address) => address.is_unique_local() || address.is_unicast_link_local() || address.is_loopback(),
    }
}

/// A computer's name as typed, such as `studio.local`; none where the field is empty.
///
/// # Errors
/// Not a name: its parts are letters, figures and hyphens (RFC 1123, 2.1), and the last one does not begin with a figure, or it would read
/// as a number. `localhost` means each phone itself.
pub fn host_name(typed: &str) -> Result<Option<String>, ShareError> {
    let name = typed.trim().to_ascii_lowercase();
    if name.is_empty() {
        return Ok(None);
    }
    let is_label = |label: &str| {
        !label.is_empty()
            && label.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
            && !label.starts_with('-')
            && !label.ends_with('-')
    };
    let last = name.rsplit('.').next().unwrap_or("");
    let sound = name.split('.').all(is_label) && !last.starts_with(|c: char| c.is_ascii_digit()) && last != "localhost";
    if sound && name.len() <= MOST_NAME { Ok(Some(name)) } else { Err(ShareError::Name(name.chars().take(MOST_NAME).collect())) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_of_a_house_are_shared() {
        for yes in ["10.0.0.7", "172.16.0.1", "172.31.255.254", "192.168.178.20", "169.254.3.4", "127.0.0.1", "fd12:3456::1", "::1"] {
            assert!(is_house(&yes.parse().unwrap()), "{yes}");
        }
        // Everywhere, documentation (RFC 5737, RFC 3849), just outside of 172.16/12, other people's.
        for no in ["0.0.0.0", "192.0.2.2", "2001:db8::1", "172.32.0.1", "11.0.0.1", "::", "255.255.255.255", "224.0.0.251"] {
            assert!(!is_house(&no.parse().unwrap()), "{no}");
        }
    }

    #[test]
    fn a_name_is_letters_figures_hyphens_and_points() {
        assert_eq!(host_name(" Studio.local ").unwrap().as_deref(), Some("studio.local"));
        assert_eq!(host_name("").unwrap(), None);
        assert_eq!(host_name("kitchen-2").unwrap().as_deref(), Some("kitchen-2"));
        for no in [
            "a b",
            "studio:80",
            "evil/x",
            "-a",
            "a-",
            "a..b",
            ".",
            "127.0.0.1",
            "localhost",
            "x.localhost",
            "a@b",
            "küche",
            &"x".repeat(64),
        ] {
            assert!(host_name(no).is_err(), "{no}");
        }
    }
}
