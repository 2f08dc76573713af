//! The second address, for phones: opened and closed while the program runs.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpListener, UdpSocket};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use axum::Router;
use axum::serve::Listener;
use tokio::runtime::Handle;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use web::{Ear, Heard, Silence};

/// Listens on the usual port for phones, or a free one if it is taken.
#[derive(Debug)]
pub(crate) struct HouseEar {
    /// Port that is tried first; 0 takes any free one.
    port: u16,
    runtime: Handle,
    open: Mutex<Option<Listening>>,
}

#[derive(Debug)]
struct Listening {
    stop: oneshot::Sender<()>,
    /// Fails as soon as the socket is given back.
    deaf: oneshot::Receiver<()>,
    served: JoinHandle<std::io::Result<()>>,
}

/// A socket that tells when it is given back.
struct Socket {
    inner: tokio::net::TcpListener,
    /// Nothing is sent: that it goes is what is told. After `inner`, so that it goes after it.
    _heard: oneshot::Sender<()>,
}

impl Listener for Socket {
    type Io = tokio::net::TcpStream;
    type Addr = SocketAddr;

    async fn accept(&mut self) -> (Self::Io, Self::Addr) {
        Listener::accept(&mut self.inner).await
    }

    fn local_addr(&self) -> std::io::Result<SocketAddr> {
        self.inner.local_addr()
    }
}

impl HouseEar {
    /// An ear that is closed. The port for phones is the one after the desk's, so that it stays the same from day to day.
    pub(crate) fn new(desk_port: u16, runtime: Handle) -> Self {
        let port = if desk_port == 0 { 0 } else { desk_port.checked_add(1).unwrap_or(0) };
        Self { port, runtime, open: Mutex::default() }
    }

    fn take(&self) -> Option<Listening> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner).take()
    }

    /// Closes it, and waits at most so long for requests that are under way.
    pub(crate) async fn end(&self, grace: Duration) {
        if let Some(Listening { stop, served, .. }) = self.take() {
            let _ = stop.send(());
            let _ = tokio::time::timeout(grace, served).await;
        }
    }
}

impl Ear for HouseEar {
    fn house(&self) -> Option<IpAddr> {
        // Which address would speak to the world outside? A connected socket knows without sending anything; both addresses are kept for
        // documents (RFC 5737, RFC 3849), so nobody is there.
        let own = |from: IpAddr, to: &str| {
            let socket = UdpSocket::bind((from, 0)).ok()?;
            socket.connect((to.parse::<IpAddr>().ok()?, 9)).ok()?;
            Some(socket.local_addr().ok()?.ip()).filter(|own| !own.is_unspecified() && !own.is_loopback())
        };
        own(Ipv4Addr::UNSPECIFIED.into(), "198.51.100.1").or_else(|| own(Ipv6Addr::UNSPECIFIED.into(), "2001:db8::1"))
    }

    fn open(&self, at: IpAddr, pages: Router) -> Result<Heard, String> {
        let cannot = |why: std::io::Error| format!("nobody can listen at {at} ({why}); say this computer's own address in the house");
        let (listener, taken) = match TcpListener::bind((at, self.port)) {
            Ok(listener) => (listener, None),
            // Held by another program.
            Err(_) if self.port != 0 => (TcpListener::bind((at, 0)).map_err(cannot)?, Some(self.port)),
            Err(why) => return Err(cannot(why)),
        };
        listener.set_nonblocking(true).map_err(cannot)?;
        let heard: SocketAddr = listener.local_addr().map_err(cannot)?;
        let _inside = self.runtime.enter();
        let inner = tokio::net::TcpListener::from_std(listener).map_err(cannot)?;
        let (stop, stopped) = oneshot::channel::<()>();
        let (heard_on, deaf) = oneshot::channel::<()>();
        let served = self.runtime.spawn(async move {
            let told = async {
                let _ = stopped.await;
            };
            axum::serve(Socket { inner, _heard: heard_on }, pages).with_graceful_shutdown(told).await
        });
        *self.open.lock().unwrap_or_else(PoisonError::into_inner) = Some(Listening { stop, deaf, served });
        Ok(Heard { at: heard, taken })
    }

    fn close(&self) -> Silence {
        let open = self.take();
        Box::pin(async move {
            if let Some(Listening { stop, deaf, .. }) = open {
                // Requests under way end in their own time; the door answers no new one.
                let _ = stop.send(());
                let _ = deaf.await;
            }
        })
    }
}
