//! From marks on a wall to a jump height: trials, standing reach, the session and its checks.
