export const document = (r) => JSON.stringify(r, (k, v) => v instanceof Set ? [...v] : v, 1);
