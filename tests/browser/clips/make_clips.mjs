// Makes the films of the browser tests: node tests/browser/clips/make_clips.mjs (needs ffmpeg with
// libx264 and libx265). The films lie beside this file; a test never runs it.
//
// Each picture shows a floor, two feet that are on it or off it by the true instants below, and the
// number of its own frame as twelve black or white squares along the top, the lowest bit first.

import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

export const WIDE = 160;
export const HIGH = 120;
/** Seconds: when the feet leave the floor, and when they touch again. */
export const LEAVES = 0.5037;
export const LANDS = LEAVES + 0.5241;
const LENGTH = 1.6;
const FLOOR = 104;

/** One picture at a true time. */
function picture(number, time) {
  const pixels = Buffer.alloc(WIDE * HIGH * 3, 200);
  const box = (left, top, wide, high, grey) => {
    for (let y = top; y < top + high; y += 1) {
      pixels.fill(grey, (y * WIDE + left) * 3, (y * WIDE + left + wide) * 3);
    }
  };
  box(0, FLOOR, WIDE, HIGH - FLOOR, 110);
  for (let bit = 0; bit < 12; bit += 1) {
    box(8 + bit * 12, 4, 12, 12, (number >> bit) & 1 ? 255 : 0);
  }
  const up = time - LEAVES;
  const isOff = time >= LEAVES && time < LANDS;
  // A centimetre is a pixel. Toes hang, so that even the first frame in the air shows a gap.
  const rise = (9.80665 / 2) * up * (LANDS - LEAVES - up) * 100;
  const lift = isOff ? Math.max(6, Math.round(rise)) : 0;
  for (const left of [60, 86]) box(left, FLOOR - 12 - lift, 14, 12, 20);
  return pixels;
}

function make(name, perSecond, { playedAt = perSecond, filter, long = LENGTH, codec } = {}) {
  const frames = Math.round(long * perSecond);
  const raw = Buffer.concat(
    Array.from({ length: frames }, (_, at) => picture(at, at / perSecond)),
  );
  const out = fileURLToPath(new URL(name, import.meta.url));
  const choose = filter ? ["-vf", filter, "-fps_mode", "passthrough"] : [];
  const made = spawnSync(
    "ffmpeg",
    [
      "-y", "-loglevel", "error",
      "-f", "rawvideo", "-pixel_format", "rgb24", "-video_size", `${WIDE}x${HIGH}`,
      "-framerate", String(playedAt), "-i", "-",
      ...choose,
      ...(codec ?? ["-c:v", "libx264"]), "-preset", "slow", "-crf", "30", "-g", "60", "-pix_fmt", "yuv420p",
      "-fflags", "+bitexact", "-flags:v", "+bitexact", "-map_metadata", "-1",
      "-movflags", "+faststart", out,
    ],
    { input: raw, maxBuffer: 1 << 30 },
  );
  if (made.status !== 0) throw new Error(`${name}: ${made.stderr}`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const rate of [24, 30, 60, 120, 240]) make(`even-${rate}.mp4`, rate);
  // Four of every seven frames of 240: intervals of 8.3 and 4.2 ms in turn.
  const kept = [0, 2, 3, 5].map((at) => `eq(mod(n,7),${at})`).join("+");
  make("uneven.mp4", 240, { filter: `select='${kept}'` });
  make("slow-240-as-30.mp4", 240, { playedAt: 30 });
  // What most phones make by default, and Chromium without a licence for it cannot play.
  make("hevc.mp4", 30, {
    long: 0.4,
    codec: ["-c:v", "libx265", "-tag:v", "hvc1", "-x265-params", "log-level=none:pools=1"],
  });
  const sound = fileURLToPath(new URL("sound.wav", import.meta.url));
  // A fifth of a second of silence: a file that plays, without a picture.
  const head = Buffer.from("RIFF\0\0\0\0WAVEfmt \x10\0\0\0\x01\0\x01\0\x40\x1f\0\0\x40\x1f\0\0\x01\0\x08\0data\0\0\0\0", "latin1");
  head.writeUInt32LE(36 + 1600, 4);
  head.writeUInt32LE(1600, 40);
  writeFileSync(sound, Buffer.concat([head, Buffer.alloc(1600, 128)]));
}
