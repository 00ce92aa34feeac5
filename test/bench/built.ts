/** A module as it is shipped: what is measured is the compiled program, not a development loader's version of it. */
export async function built<Module>(path: string): Promise<Module> {
  return (await import(new URL(`../../.dist/${path}`, import.meta.url).href)) as Module;
}
