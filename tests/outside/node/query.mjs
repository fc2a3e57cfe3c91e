// Asks the SPARQL endpoint {"endpoint": URL, "query": text} through Comunica and prints the solutions,
// variables sorted, or the quads, as JSON.
import { readFileSync } from 'node:fs'
import threads from 'node:worker_threads'
import zlib from 'node:zlib'

// its HTTP client looks for two functions that Node has from 22 on, and uses neither here
zlib.createZstdDecompress ??= () => { throw new Error('no zstd in this Node') }
threads.markAsUncloneable ??= () => {}
const { QueryEngine } = await import('@comunica/query-sparql')

const asked = JSON.parse(readFileSync(0, 'utf8'))
const context = { sources: [{ type: 'sparql', value: asked.endpoint }] }
const result = await new QueryEngine().query(asked.query, context)
const found = []
if (result.resultType === 'bindings') {
  for await (const row of await result.execute()) {
    found.push([...row.keys()].map(name => [name.value, row.get(name).value]).sort())
  }
} else if (result.resultType === 'quads') {
  for await (const quad of await result.execute()) {
    found.push([quad.subject.value, quad.predicate.value, quad.object.value])
  }
} else {
  found.push(await result.execute())
}
console.log(JSON.stringify(found))
