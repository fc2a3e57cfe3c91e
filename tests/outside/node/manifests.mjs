// Reads a list of IIIF manifests and collections and prints what two readers make of each: npm `@iiif/parser` (types and ids
// it met, and whether it writes the same document again) and the Vault of npm `@iiif/helpers` (what is
// painted where on each canvas, its services, what one may choose from, and the ranges).
import { readFileSync } from 'node:fs'
import { createPaintingAnnotationsHelper } from '@iiif/helpers/painting-annotations'
import { expandTarget, parseSelector } from '@iiif/helpers/annotation-targets'
import { createRangeHelper } from '@iiif/helpers/ranges'
import { Vault } from '@iiif/helpers/vault'
import { normalize, serialize, serializeConfigPresentation3 } from '@iiif/parser'

function byTheParser (manifest) {
  const { entities, mapping, diagnostics } = normalize(manifest)
  const counts = Object.fromEntries(Object.entries(entities).map(([type, found]) => [type, Object.keys(found).length]))
  const reference = { id: manifest.id, type: manifest.type }
  const again = serialize({ entities, mapping, requests: {} }, reference, serializeConfigPresentation3)
  return { counts, again, diagnostics: diagnostics ?? [] }
}

function box (target) {
  return expandTarget(target).selector?.spatial ?? null
}

function painted ({ annotationId, resource, target, selector }) {
  const cut = selector ? parseSelector(selector).selector : null
  return {
    annotation: annotationId,
    image: resource.id,
    at: box(target),
    from: cut?.spatial ?? null,
    rotation: cut?.rotation ?? 0
  }
}

function noted (vault, canvas) {
  const pages = vault.get(canvas.annotations)
  return pages.flatMap(page => vault.get(page.items)).map(note => {
    const target = Array.isArray(note.target) ? note.target[0] : note.target
    return { canvas: target.source.id ?? target.source, selector: target.selector.type }
  })
}

function byTheVault (manifest) {
  const vault = new Vault()
  const loaded = vault.loadManifestSync(manifest.id, manifest)
  const paintings = createPaintingAnnotationsHelper(vault)
  const canvases = vault.get(loaded.items).map(canvas => {
    const { items, choice } = paintings.getPaintables(canvas)
    return {
      id: canvas.id,
      width: canvas.width,
      height: canvas.height,
      service: canvas.service,
      annotations: paintings.getAllPaintingAnnotations(canvas).map(({ id }) => id),
      painted: items.map(painted),
      choices: choice?.items?.map(({ id }) => id) ?? [],
      notes: noted(vault, canvas)
    }
  })
  const tree = createRangeHelper(vault).rangesToTableOfContentsTree(vault.get(loaded.structures), loaded.label)
  return { label: loaded.label, rights: loaded.rights, requiredStatement: loaded.requiredStatement, canvases, tree }
}

function listedByTheVault (collection) {
  const vault = new Vault()
  const loaded = vault.loadCollectionSync(collection.id, collection)
  return {
    label: loaded.label,
    items: loaded.items.map(({ id, type }) => ({ id, type, label: vault.get({ id, type }).label })),
    partOf: loaded.partOf.map(({ id }) => id)
  }
}

const manifests = JSON.parse(readFileSync(0, 'utf8'))
console.log(JSON.stringify(manifests.map(manifest => ({
  parser: byTheParser(structuredClone(manifest)),
  vault: (manifest.type === 'Collection' ? listedByTheVault : byTheVault)(structuredClone(manifest))
}))))
