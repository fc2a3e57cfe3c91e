// Reads {"shapes": [file, ...], "data": "N-Triples"} and prints what npm `shacl-engine` finds:
// focus node, path (written as in SPARQL), severity and constraint component of every result.
import { readFileSync } from 'node:fs'
import { DataFactory, Parser, Store } from 'n3'
import { Validator } from 'shacl-engine'

const asked = JSON.parse(readFileSync(0, 'utf8'))

const shapes = new Store()
for (const file of asked.shapes) {
  shapes.addQuads(new Parser({ blankNodePrefix: `_:f${shapes.size}` }).parse(readFileSync(file, 'utf8')))
}
const data = new Store(new Parser({ format: 'N-Triples' }).parse(asked.data))

const SIGNS = { one: '', zeroOrMore: '*', oneOrMore: '+', zeroOrOne: '?' }

function stepInWords (step) {
  const names = step.predicates.map(predicate => `<${predicate.value}>`)
  const joined = names.length > 1 ? `(${names.join('|')})` : names[0]
  return `${step.start === 'object' ? '^' : ''}${joined}${SIGNS[step.quantifier]}`
}

function pathInWords (path) {
  if (!path) return 'None'
  const steps = path.map(stepInWords)
  return steps.length > 1 ? `(${steps.join('/')})` : steps[0]
}

const report = await new Validator(shapes, { factory: DataFactory }).validate({ dataset: data })
console.log(JSON.stringify(report.results.map(result => [
  result.focusNode.term.value,
  pathInWords(result.path),
  result.severity.value,
  result.constraintComponent.value
])))
