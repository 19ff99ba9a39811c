//! Mounts the page into the shell of `index.html`.

mod ui;

fn main() {
    ui::start();
}
