//! Starts the window or one command.
#![forbid(unsafe_code)]
// A window program on Windows opens no console beside it.
#![cfg_attr(all(windows, feature = "window", not(debug_assertions)), windows_subsystem = "windows")]

fn main() -> std::process::ExitCode {
    tranche::command::run(std::env::args_os())
}
