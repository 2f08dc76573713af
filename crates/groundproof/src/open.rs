//! Opens the workbench: listens on this computer alone, says where, opens the browser, ends when told to.

use std::io::Write;
use std::net::{Ipv4Addr, SocketAddr};
use std::time::Duration;

use tokio::net::TcpListener;
use web::{App, Door};
use workbench::Workbench;

use crate::arguments::{DEFAULT_PORT, Open};
use crate::command::Failure;

/// Requests under way get this long when the program is told to end.
const GRACE: Duration = Duration::from_millis(1500);

pub(crate) fn run(options: &Open) -> Result<(), Failure> {
    let could_not = |why: &dyn std::fmt::Display| Failure::CouldNot(Some(why.to_string()));
    let bench = Workbench::open().map_err(|e| could_not(&e))?;
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().map_err(|e| could_not(&e))?;
    runtime.block_on(async {
        let listener = listen(options.port).await?;
        let address = listener.local_addr().map_err(|e| could_not(&e))?;
        let door = Door::new(address).map_err(|e| could_not(&e))?;
        let entrance = door.entrance();
        announce(&entrance).map_err(|e| could_not(&e))?;
        let serving =
            tokio::spawn(
                async move { axum::serve(listener, web::router(App::new(bench, door))).with_graceful_shutdown(told_to_end()).await },
            );
        if !options.no_browser && open::that_detached(&entrance).is_err() {
            complain("No browser could be opened: open the address above yourself.");
        }
        told_to_end().await;
        // An idle connection that the browser keeps open must not keep the program from ending.
        let _ = tokio::time::timeout(GRACE, serving).await;
        Ok(())
    })
}

async fn listen(port: u16) -> Result<TcpListener, Failure> {
    let at = |port: u16| SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    match TcpListener::bind(at(port)).await {
        Ok(listener) => Ok(listener),
        // The usual port is only a convenience; one that was asked for is not exchanged for another.
        Err(_) if port == DEFAULT_PORT => TcpListener::bind(at(0)).await.map_err(|e| Failure::CouldNot(Some(e.to_string()))),
        Err(e) => Err(Failure::CouldNot(Some(format!("port {port} can't be used ({e}); try --port 0")))),
    }
}

/// The first line is for programs, the second for people.
#[expect(clippy::print_stderr, reason = "the command line speaks here")]
fn announce(entrance: &str) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{}", serde_json::json!({ "ready": entrance }))?;
    out.flush()?;
    eprintln!("groundproof is at {entrance}\nIt listens on this computer alone. Press Ctrl+C to end it.");
    Ok(())
}

#[expect(clippy::print_stderr, reason = "the command line speaks here")]
fn complain(said: &str) {
    eprintln!("{said}");
}

/// Waits for Ctrl+C or a terminate signal.
async fn told_to_end() {
    let interrupt = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let terminate = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let terminate = std::future::pending::<()>();
    tokio::select! {
        () = interrupt => {},
        () = terminate => {},
    }
}
