//! Records that outlive the program: wire formats, migration, merging, backup and the store port.
