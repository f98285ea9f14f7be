//! Serves an invented studio after five months until Ctrl-C, to look at the follow-up in a browser:
//! `cargo run --release -p lessonwright-web --example months_studio [PORT]`.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

#[path = "../tests/sample/months.rs"]
mod months;
#[allow(dead_code, reason = "of the small sample only the state is used")]
#[path = "../tests/sample/mod.rs"]
mod sample;

use lessonwright_store::Store;
use lessonwright_web::{DEFAULT_ADDRESS, router, serve};

#[tokio::main]
async fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let store = Store::open(folder.path()).await?;
    months::fill_months(&store, sample::now()).await;
    let port = std::env::args().nth(1).map(|text| text.parse());
    let port = port.unwrap_or(Ok(DEFAULT_ADDRESS.port()))?;
    let listener = tokio::net::TcpListener::bind((DEFAULT_ADDRESS.ip(), port)).await?;
    println!("http://{}", listener.local_addr()?);
    let shutdown = async {
        let _ = tokio::signal::ctrl_c().await;
    };
    serve(listener, router(store, sample::state()), shutdown).await?;
    Ok(())
}
