//! Through which mail server e-mails go: `mail.toml` in the studio's folder. The password is not in it, so that a backup has
//! none: it is in the environment or in a file that its owner alone can read.

use anyhow::{Context, Result, bail};
use jiff::SignedDuration;
use lettre::message::Mailbox;
use lettre::transport::smtp::authentication::Credentials;
use lettre::transport::smtp::client::{Certificate, Tls, TlsParameters};
use lettre::{AsyncSmtpTransport, Tokio1Executor};
use serde::Deserialize;
use std::fs;
use std::io::ErrorKind;
use std::net::IpAddr;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Where the password may be told.
const PASSWORD: &str = "LESSONWRIGHT_MAIL_PASSWORD";
/// A server that is silent for so long does not answer.
const ANSWERS_WITHIN: Duration = Duration::from_secs(30);

/// The file's fields.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MailFile {
    host: String,
    port: Option<u16>,
    #[serde(default)]
    security: Security,
    user: Option<String>,
    password_file: Option<PathBuf>,
    /// PEM, of a server whose certificate no public authority signed.
    certificate_file: Option<PathBuf>,
    from: String,
    to: String,
    most_an_hour: Option<usize>,
    wait_minutes: Option<f64>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Security {
    /// TLS begins within the connection, or nothing is sent.
    #[default]
    Starttls,
    /// TLS from the first byte.
    Tls,
    /// None: a server on this machine.
    None,
}

/// What is set.
#[derive(Clone)]
pub struct MailSettings {
    pub from: Mailbox,
    /// The professional.
    pub to: Mailbox,
    pub most_an_hour: usize,
    /// How long a mail to the professional waits for more to tell of.
    pub wait: SignedDuration,
    pub transport: AsyncSmtpTransport<Tokio1Executor>,
}

impl MailSettings {
    /// As the studio's folder has them; none if it has no such file.
    pub fn load(studio: &Path) -> Result<Option<MailSettings>> {
        let path = studio.join("mail.toml");
        let text = match fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(error).with_context(|| format!("reading {}", path.display())),
        };
        let told = std::env::var(PASSWORD).ok();
        let settings = MailSettings::of(&text, studio, told);
        settings
            .with_context(|| format!("reading {}", path.display()))
            .map(Some)
    }

    fn of(text: &str, studio: &Path, told: Option<String>) -> Result<MailSettings> {
        let file: MailFile = toml::from_str(text)?;
        let wait_s = 60.0 * file.wait_minutes.unwrap_or(5.0);
        if !(0.0..=86_400.0).contains(&wait_s) {
            bail!("wait_minutes is from 0 to 1440");
        }
        Ok(MailSettings {
            from: mailbox("from", &file.from)?,
            to: mailbox("to", &file.to)?,
            most_an_hour: file.most_an_hour.unwrap_or(20),
            wait: SignedDuration::from_secs(wait_s as i64),
            transport: transport(&file, studio, told)?,
        })
    }
}

fn mailbox(field: &str, text: &str) -> Result<Mailbox> {
    text.parse()
        .with_context(|| format!("{field} = \"{text}\" is no e-mail address"))
}

fn transport(
    file: &MailFile,
    studio: &Path,
    told: Option<String>,
) -> Result<AsyncSmtpTransport<Tokio1Executor>> {
    if file.security == Security::None && !is_this_machine(&file.host) {
        bail!(
            "security = \"none\" is for a server on this machine, not for {}: choose starttls or tls",
            file.host
        );
    }
    let tls = || tls(file, studio);
    // The usual ports of submission (RFC 8314).
    let (tls, usual_port) = match file.security {
        Security::Starttls => (Tls::Required(tls()?), 587),
        Security::Tls => (Tls::Wrapper(tls()?), 465),
        Security::None => (Tls::None, 25),
    };
    let transport = AsyncSmtpTransport::<Tokio1Executor>::builder_dangerous(&file.host)
        .port(file.port.unwrap_or(usual_port))
        .tls(tls)
        .timeout(Some(ANSWERS_WITHIN));
    let Some(user) = &file.user else {
        return Ok(transport.build());
    };
    let password = match (told, &file.password_file) {
        (Some(told), _) => told,
        (None, Some(path)) => read_secret(&studio.join(path))?,
        (None, None) => bail!("user \"{user}\" has no password: set {PASSWORD} or password_file"),
    };
    let credentials = Credentials::new(user.clone(), password);
    Ok(transport.credentials(credentials).build())
}

fn tls(file: &MailFile, studio: &Path) -> Result<TlsParameters> {
    let mut parameters = TlsParameters::builder(file.host.clone());
    if let Some(path) = &file.certificate_file {
        let path = studio.join(path);
        let pem = fs::read(&path).with_context(|| format!("reading {}", path.display()))?;
        parameters = parameters.add_root_certificate(Certificate::from_pem(&pem)?);
    }
    Ok(parameters.build_rustls()?)
}

fn is_this_machine(host: &str) -> bool {
    host == "localhost" || host.parse().is_ok_and(|ip: IpAddr| ip.is_loopback())
}

/// The first line of a file that its owner alone can read.
fn read_secret(path: &Path) -> Result<String> {
    let reading = || format!("reading the password in {}", path.display());
    let meta = fs::metadata(path).with_context(reading)?;
    if others_can_read(&meta) {
        bail!("{} can be read by others: chmod 600 {0}", path.display());
    }
    let text = fs::read_to_string(path).with_context(reading)?;
    Ok(text.lines().next().unwrap_or_default().to_owned())
}

#[cfg(unix)]
fn others_can_read(meta: &fs::Metadata) -> bool {
    use std::os::unix::fs::PermissionsExt;
    meta.permissions().mode() & 0o077 != 0
}

/// Elsewhere a user's folder is the user's own.
#[cfg(not(unix))]
fn others_can_read(_: &fs::Metadata) -> bool {
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "from = \"Studio <studio@mail.example>\"\nto = \"imke@mail.example\"\n";

    #[test]
    fn what_would_send_in_the_open_or_can_not_be_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let of = |more: &str, told: Option<&str>| {
            MailSettings::of(
                &format!("{HEAD}{more}"),
                folder.path(),
                told.map(Into::into),
            )
        };
        for (more, told, is) in [
            ("host = \"mail.example\"", None, true),
            (
                "host = \"127.0.0.1\"\nsecurity = \"none\"\nport = 2525",
                None,
                true,
            ),
            ("host = \"mail.example\"\nsecurity = \"none\"", None, false),
            (
                "host = \"mail.example\"\nsecurity = \"perhaps\"",
                None,
                false,
            ),
            ("host = \"mail.example\"\nuser = \"studio\"", None, false),
            (
                "host = \"mail.example\"\nuser = \"studio\"",
                Some("s3cret"),
                true,
            ),
            (
                "host = \"mail.example\"\npassword = \"s3cret\"",
                None,
                false,
            ),
            ("host = \"mail.example\"\nwait_minutes = -1", None, false),
            ("", None, false),
        ] {
            let read = of(more, told);
            assert_eq!(read.is_ok(), is, "{more}: {:?}", read.err());
        }
        let set = of("host = \"mail.example\"\nwait_minutes = 0.5", None).unwrap();
        assert_eq!(set.wait, SignedDuration::from_secs(30));
    }

    #[cfg(unix)]
    #[test]
    fn a_password_that_others_can_read_is_refused() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("mail.password");
        fs::write(&file, "s3cret\n").unwrap();
        for (mode, is) in [(0o644, false), (0o640, false), (0o600, true), (0o400, true)] {
            fs::set_permissions(&file, fs::Permissions::from_mode(mode)).unwrap();
            assert_eq!(read_secret(&file).is_ok(), is, "{mode:o}");
        }
        assert_eq!(read_secret(&file).unwrap(), "s3cret");
    }
}
