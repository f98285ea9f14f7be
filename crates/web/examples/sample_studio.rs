//! Serves an invented studio until Ctrl-C, to be looked at in a browser:
//! `cargo run -p lessonwright-web --example sample_studio`.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../tests/sample/mod.rs"]
mod sample;

use lessonwright_store::Store;
use lessonwright_web::{DEFAULT_ADDRESS, router, serve};

#[tokio::main]
async fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let store = Store::open(folder.path()).await?;
    sample::fill(&store).await;
    let listener = tokio::net::TcpListener::bind(DEFAULT_ADDRESS).await?;
    println!("http://{}", listener.local_addr()?);
    let shutdown = async {
        let _ = tokio::signal::ctrl_c().await;
    };
    serve(listener, router(store, sample::state()), shutdown).await?;
    Ok(())
}
