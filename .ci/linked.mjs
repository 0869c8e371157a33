// What the showroom's pages say as linked data, read by a processor of its own: every piece comes out as one product of
// schema.org, with words of that vocabulary alone, and with the same price and size as a reader of the page finds.
import fs from 'node:fs';
import path from 'node:path';
import { finish, require } from './site.mjs';

const jsonld = require('jsonld');
const SCHEMA = 'https://schema.org/';
// The part of the vocabulary's context that the pages may use. It stands here, since a check must not ask the network.
// Source: schema.org, version 29, the types IndividualProduct, Offer, QuantitativeValue, ItemList and their properties.
const CONTEXT = {
  '@context': {
    '@vocab': SCHEMA,
    url: { '@type': '@id' }, image: { '@type': '@id' },
    availability: { '@type': '@vocab' }, itemCondition: { '@type': '@vocab' },
    itemListElement: { '@container': '@list' },
  },
};
const ALLOWED = {
  IndividualProduct: ['name', 'description', 'url', 'image', 'sku', 'category', 'material', 'width', 'height', 'depth', 'weight', 'offers'],
  Offer: ['availability', 'itemCondition', 'price', 'priceCurrency', 'url', 'seller'],
  QuantitativeValue: ['value', 'unitCode'],
  Organization: ['name'],
  ItemList: ['itemListElement'],
  ListItem: ['position', 'url', 'name'],
};
const AVAILABLE = ['InStock', 'Reserved', 'SoldOut'].map(word => SCHEMA + word);
const documentLoader = async url => {
  if (url.replace(/\/?$/, '/') !== SCHEMA) throw new Error(`asks for ${url}`);
  return { contextUrl: null, document: CONTEXT, documentUrl: url };
};

const written = path.join(process.argv[2], 'showroom');
const faults = new Map();

/** Every node of expanded linked data, with what is wrong in it. */
function* nodes(value, found) {
  if (Array.isArray(value)) { for (const one of value) yield* nodes(one, found); return; }
  if (value === null || typeof value !== 'object') return;
  if (value['@list']) { yield* nodes(value['@list'], found); return; }
  if (value['@value'] !== undefined || !value['@type']) return;
  const [type] = value['@type'];
  const allowed = ALLOWED[type.replace(SCHEMA, '')];
  if (!allowed) found.push(`a type that is not expected: ${type}`);
  yield value;
  for (const [key, inner] of Object.entries(value)) {
    if (key.startsWith('@')) continue;
    if (!allowed?.includes(key.replace(SCHEMA, ''))) found.push(`${type} has no ${key}`);
    yield* nodes(inner, found);
  }
}

const first = (node, key) => node?.[SCHEMA + key]?.[0];
const plain = (node, key) => first(node, key)?.['@value'];

async function look(file) {
  const found = [];
  const html = fs.readFileSync(file, 'utf8');
  const scripts = [...html.matchAll(/<script type="application\/ld\+json">([\s\S]*?)<\/script>/g)];
  const isPiece = /pieces\/[^/]+\/index\.html$/.test(file);
  if (isPiece && scripts.length !== 1) found.push(`${scripts.length} scripts of linked data`);
  for (const [, text] of scripts) {
    const expanded = await jsonld.expand(JSON.parse(text), { documentLoader });
    const all = [...nodes(expanded, found)];
    const products = all.filter(node => node['@type'][0] === `${SCHEMA}IndividualProduct`);
    if (isPiece && products.length !== 1) found.push(`${products.length} products`);
    for (const product of products) {
      const title = /<h1[^>]*>([^<]*)</.exec(html)?.[1];
      const name = plain(product, 'name');
      if (!name || name.replace(/[&<>"'’]/g, '') !== title?.replace(/&[a-z0-9#]+;|['’]/g, '')) found.push(`it is called “${name}”, and the page “${title}”`);
      const offer = first(product, 'offers');
      if (offer && !AVAILABLE.includes(first(offer, 'availability')?.['@id'])) found.push('nobody knows whether it can be had');
      const price = plain(offer, 'price');
      if (price !== undefined) {
        if (!/^\d+(\.\d+)?$/.test(price)) found.push(`the price is no number: ${price}`);
        if (!/^[A-Z]{3}$/.test(plain(offer, 'priceCurrency') ?? '')) found.push('the price has no money');
        if (!html.includes(price.replace(/\.00$/, ''))) found.push(`the page does not say the price ${price}`);
      }
      for (const side of ['width', 'depth', 'height']) {
        const length = plain(first(product, side), 'value');
        if (length !== undefined && !html.includes(String(length))) found.push(`the page does not say the ${side} ${length}`);
      }
    }
    const quads = await jsonld.toRDF(expanded, { documentLoader });
    if (quads.length < 3) found.push('it says next to nothing');
  }
  faults.set(path.relative(path.dirname(written), file), found);
}

for (const name of fs.readdirSync(written, { recursive: true }).filter(name => name.endsWith('.html')).sort()) {
  await look(path.join(written, name));
}
finish(faults);
