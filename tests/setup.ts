// The libraries need Node 22 or newer; the `node` package puts Node 24 first on the path of npm scripts.
if (Number(process.versions.node.split('.')[0]) < 24) {
  throw new Error(`Node 24 is needed, this is ${process.version}. Run the tests through npm, which finds node_modules/.bin/node first.`)
}
