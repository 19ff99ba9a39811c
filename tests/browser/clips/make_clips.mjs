// Makes the films of the browser tests: node tests/browser/clips/make_clips.mjs (needs ffmpeg with
// libx264 and libx265). The films lie beside this file; a test never runs it.
//
// Each picture shows a floor, two feet that are on it or off it by the true instants below, and the
// number of its own frame as twelve black or white squares along the top, the lowest bit first.

import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const WIDE = 160;
export const HIGH = 120;
/** Seconds: when the feet leave the floor, and when they touch again. */
export const LEAVES = 0.5037;
export const LANDS = LEAVES + 0.5241;
const LENGTH = 1.6;
const FLOOR = 104;
/** The upright film: its height, and the seconds cut off its start. */
export const TALL = 284;
export const CUT = 0.2;

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

function ffmpeg(name, words, input) {
  const made = spawnSync("ffmpeg", ["-y", "-loglevel", "error", ...words], { input, maxBuffer: 1 << 30 });
  if (made.status !== 0) throw new Error(`${name}: ${made.stderr}`);
}

const BARE = ["-fflags", "+bitexact", "-flags:v", "+bitexact", "-flags:a", "+bitexact", "-map_metadata", "-1"];

/**
 * A film as phones write one: upright, stored on its side with the turn beside it; sound; a QuickTime
 * container with its tables at the end; and, since its start was cut off on the phone, an edit list
 * that begins after its first frames.
 */
function makeLikePhone(name, perSecond) {
  const frames = Math.round(LENGTH * perSecond);
  const raw = Buffer.concat(Array.from({ length: frames }, (_, at) => picture(at, at / perSecond)));
  const folder = mkdtempSync(join(tmpdir(), "clip-"));
  const whole = join(folder, "whole.mov");
  ffmpeg(name, [
    "-f", "rawvideo", "-pixel_format", "rgb24", "-video_size", `${WIDE}x${HIGH}`,
    "-framerate", String(perSecond), "-i", "-",
    "-f", "lavfi", "-i", `sine=frequency=220:sample_rate=44100:duration=${LENGTH}`,
    // More floor below makes it upright.
    "-vf", `pad=${WIDE}:${TALL}:0:0:color=0x6e6e6e,transpose=clock`,
    "-c:v", "libx264", "-preset", "slow", "-crf", "30", "-g", "60", "-pix_fmt", "yuv420p",
    "-c:a", "aac", "-b:a", "32k", ...BARE, "-metadata:s:v:0", "rotate=90", whole,
  ], raw);
  const out = fileURLToPath(new URL(name, import.meta.url));
  ffmpeg(name, ["-ss", String(CUT), "-i", whole, "-c", "copy", ...BARE, "-metadata:s:v:0", "rotate=90", out]);
  rmSync(folder, { recursive: true });
}

function make(name, perSecond, { playedAt = perSecond, filter, long = LENGTH, codec } = {}) {
  const frames = Math.round(long * perSecond);
  const raw = Buffer.concat(
    Array.from({ length: frames }, (_, at) => picture(at, at / perSecond)),
  );
  const out = fileURLToPath(new URL(name, import.meta.url));
  const choose = filter ? ["-vf", filter, "-fps_mode", "passthrough"] : [];
  ffmpeg(
    name,
    [
      "-f", "rawvideo", "-pixel_format", "rgb24", "-video_size", `${WIDE}x${HIGH}`,
      "-framerate", String(playedAt), "-i", "-",
      ...choose,
      ...(codec ?? ["-c:v", "libx264"]), "-preset", "slow", "-crf", "30", "-g", "60", "-pix_fmt", "yuv420p",
      "-fflags", "+bitexact", "-flags:v", "+bitexact", "-map_metadata", "-1",
      "-movflags", "+faststart", out,
    ],
    raw,
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const rate of [24, 30, 60, 120, 240]) make(`even-${rate}.mp4`, rate);
  // Four of every seven frames of 240: intervals of 8.3 and 4.2 ms in turn.
  const kept = [0, 2, 3, 5].map((at) => `eq(mod(n,7),${at})`).join("+");
  make("uneven.mp4", 240, { filter: `select='${kept}'` });
  make("slow-240-as-30.mp4", 240, { playedAt: 30 });
  makeLikePhone("like-a-phone.mov", 240);
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
