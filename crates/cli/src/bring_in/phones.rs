//! The door for phones: a listener of its own on the local network that has the token's pages and nothing else. The studio
//! itself stays on this machine.

use anyhow::{Context, Result};
use lessonwright_store::Store;
use lessonwright_web::AppState;
use lessonwright_web::bring_in::phone_router;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};
use tokio::net::TcpListener;

/// Opens the door; where phones find it.
pub async fn lan_base(port: u16) -> Result<(TcpListener, String)> {
    let any = SocketAddr::new(IpAddr::V4(Ipv4Addr::UNSPECIFIED), port);
    let listener = TcpListener::bind(any).await.with_context(|| {
        format!("port {port} is taken; choose another for phones with --phones-port")
    })?;
    let own = own_address().context(
        "this machine has no address in a network: join the one that the phone is in, or open without --phones",
    )?;
    let base = format!("http://{own}:{}", listener.local_addr()?.port());
    Ok((listener, base))
}

/// This machine's address in its network: the one it would send from. Nothing is sent.
fn own_address() -> Result<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
    // An address for documentation (RFC 5737): it is nobody's, and only the way to it is asked for.
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
    Ok(socket.local_addr()?.ip())
}

/// Answers phones until the studio closes.
pub fn serve_phones(listener: TcpListener, store: Store, state: AppState) {
    let router = phone_router(store, state);
    tokio::spawn(async move {
        let never = std::future::pending();
        if let Err(error) = lessonwright_web::serve(listener, router, never).await {
            tracing::error!("phones are not answered any more: {error}");
        }
    });
}
