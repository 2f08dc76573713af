//! Opens the workbench: listens on this computer, and for phones if asked to, says where, opens the browser, ends when told to.

use std::io::Write;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use tokio::net::TcpListener;
use web::{App, Door};
use workbench::Workbench;

use crate::arguments::{At, DEFAULT_PORT, Open};
use crate::command::{Failure, bad_input};
use crate::ear::HouseEar;
use crate::studio;

/// Requests under way get this long when the program is told to end.
const GRACE: Duration = Duration::from_millis(1200);

pub(crate) fn run(options: &Open) -> Result<(), Failure> {
    let could_not = |why: &dyn std::fmt::Display| Failure::CouldNot(Some(why.to_string()));
    let name = web::host_name(options.share_as.as_deref().unwrap_or("")).map_err(bad_input)?;
    let bench = Workbench::open().map_err(|e| could_not(&e))?;
    let studio = studio::open(options.studio.as_deref())?;
    for warning in studio.keeper().info().map_err(|e| could_not(&e))?.warnings {
        complain(&warning);
    }
    let example = options.example;
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().map_err(|e| could_not(&e))?;
    runtime.block_on(async {
        let listener = listen(options.port).await?;
        let address = listener.local_addr().map_err(|e| could_not(&e))?;
        let door = Door::new(address).map_err(|e| could_not(&e))?;
        let entrance = door.entrance();
        let ear = Arc::new(HouseEar::new(options.port, tokio::runtime::Handle::current()));
        let app = App::new(bench, door, studio, example, Arc::<HouseEar>::clone(&ear));
        let shared = match options.share {
            None => None,
            Some(At::House) => Some(app.share_at(None, name).await),
            Some(At::Address(address)) => Some(app.share_at(Some(address), name).await),
        };
        let shared = shared.transpose().map_err(|e| could_not(&e))?;
        // The handlers stand before the first line is printed: whoever reads it may end the program at once.
        let mut ending = Ending::new().map_err(|e| could_not(&e))?;
        announce(&entrance, shared.as_deref()).map_err(|e| could_not(&e))?;
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        let mut serving = tokio::spawn(async move {
            let told = async {
                let _ = stopped.await;
            };
            axum::serve(listener, web::router(app)).with_graceful_shutdown(told).await
        });
        if !options.no_browser && open::that_detached(&entrance).is_err() {
            complain("No browser could be opened: open the address above yourself.");
        }
        tokio::select! {
            () = ending.told() => {},
            ended = &mut serving => return Err(Failure::CouldNot(Some(format!("the workbench stopped serving: {ended:?}")))),
        }
        let _ = stop.send(());
        // An idle connection that the browser keeps open must not keep the program from ending.
        let _ = tokio::join!(tokio::time::timeout(GRACE, serving), ear.end(GRACE));
        Ok(())
    })
}

async fn listen(port: u16) -> Result<TcpListener, Failure> {
    let at = |port: u16| SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    match TcpListener::bind(at(port)).await {
        Ok(listener) => Ok(listener),
        // The usual port is only a convenience; any other was asked for and is not exchanged.
        Err(_) if port == DEFAULT_PORT => TcpListener::bind(at(0)).await.map_err(|e| Failure::CouldNot(Some(e.to_string()))),
        Err(e) => Err(Failure::CouldNot(Some(format!("port {port} can't be used ({e}); try --port 0")))),
    }
}

/// The first line is for programs, the rest for people.
#[expect(clippy::print_stderr, reason = "the command line speaks here")]
fn announce(entrance: &str, shared: Option<&str>) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    // Names of a JSON object come in the order of the alphabet.
    let line = match shared {
        Some(shared) => serde_json::json!({ "ready": entrance, "shared": shared }),
        None => serde_json::json!({ "ready": entrance }),
    };
    writeln!(out, "{line}")?;
    out.flush()?;
    eprintln!("groundproof is at {entrance}");
    match shared {
        Some(shared) => eprintln!(
            "A phone opens {shared} and is let in under \u{201c}My phone\u{201d}. Plain HTTP: anyone who can listen on that network can read it."
        ),
        None => eprintln!("It listens on this computer alone."),
    }
    eprintln!("Press Ctrl+C to end it.");
    Ok(())
}

#[expect(clippy::print_stderr, reason = "the command line speaks here")]
fn complain(said: &str) {
    eprintln!("{said}");
}

/// Ctrl+C or a terminate signal.
#[cfg(unix)]
struct Ending {
    interrupt: tokio::signal::unix::Signal,
    terminate: tokio::signal::unix::Signal,
}

#[cfg(unix)]
impl Ending {
    fn new() -> std::io::Result<Self> {
        use tokio::signal::unix::{SignalKind, signal};
        Ok(Self { interrupt: signal(SignalKind::interrupt())?, terminate: signal(SignalKind::terminate())? })
    }

    async fn told(&mut self) {
        tokio::select! {
            _ = self.interrupt.recv() => {},
            _ = self.terminate.recv() => {},
        }
    }
}

/// Ctrl+C.
#[cfg(windows)]
struct Ending(tokio::signal::windows::CtrlC);

#[cfg(windows)]
impl Ending {
    fn new() -> std::io::Result<Self> {
        tokio::signal::windows::ctrl_c().map(Self)
    }

    async fn told(&mut self) {
        self.0.recv().await;
    }
}
