//! Builds again when a migration is added: they are read into the binary.

fn main() {
    println!("cargo:rerun-if-changed=migrations");
}
