// Fetches the parts of the program that are not needed at the start. Written by the build.
//
// The program calls an exported function with the number of a function of its own, which is told
// whether the part has arrived. A part that failed is asked for again the next time.

import { initSync } from "./@GLUE@";

const FILES = @FILES@;

const coming = new Map();

// Without arguments the glue hands out the running program.
const running = () => initSync();

async function instantiate(name, integrity) {
  const response = await fetch(new URL(name, import.meta.url), { integrity, credentials: "same-origin" });
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  const bytes = await response.arrayBuffer();
  await WebAssembly.instantiate(bytes, { __wasm_split: { ...running(), @EXTRA@ } });
}

function once(name, integrity) {
  if (!coming.has(name)) {
    const work = instantiate(name, integrity);
    work.catch(() => coming.delete(name));
    coming.set(name, work);
  }
  return coming.get(name);
}

async function load(part, tell, data) {
  let here = true;
  try {
    await Promise.all(FILES[part].map(([name, integrity]) => once(name, integrity)));
  } catch (error) {
    console.warn(String(error));
    here = false;
  }
  running().__indirect_function_table.get(tell)(data, here);
}

@EXPORTS@
