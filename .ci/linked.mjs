// What the trees say as linked data, read by a processor of its own. In the showroom every piece comes out as one product of
// schema.org, with words of that vocabulary alone, and with the same price and size as a reader of the page finds; in the
// archive as one object of Linked Art, with its classes and properties alone.
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
      const title = /<h1[^>]*>(.*?)<\/h1>/s.exec(html)?.[1].replace(/<[^>]*>/g, '');
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

// The part of the context of Linked Art that the archive may use, so that nothing is asked for.
// Source: Linked Art, API 1.0, schemas of object, set and what they share; CIDOC CRM 7.1.
const CRM = 'http://www.cidoc-crm.org/cidoc-crm/';
const LA = 'https://linked.art/ns/terms/';
const DIG = 'http://www.ics.forth.gr/isl/CRMdig/';
const XSD = 'http://www.w3.org/2001/XMLSchema#';
const many = property => ({ '@id': property, '@type': '@id', '@container': '@set' });
const ART = {
  '@context': {
    '@version': 1.1, id: '@id', type: '@type', _label: 'http://www.w3.org/2000/01/rdf-schema#label',
    HumanMadeObject: `${CRM}E22_Human-Made_Object`, Name: `${CRM}E33_E41_Linguistic_Appellation`, Identifier: `${CRM}E42_Identifier`,
    Type: `${CRM}E55_Type`, Material: `${CRM}E57_Material`, MeasurementUnit: `${CRM}E58_Measurement_Unit`,
    Dimension: `${CRM}E54_Dimension`, LinguisticObject: `${CRM}E33_Linguistic_Object`, VisualItem: `${CRM}E36_Visual_Item`,
    Production: `${CRM}E12_Production`, TimeSpan: `${CRM}E52_Time-Span`, Group: `${CRM}E74_Group`, Set: `${LA}Set`,
    DigitalObject: `${DIG}D1_Digital_Object`,
    identified_by: many(`${CRM}P1_is_identified_by`), classified_as: many(`${CRM}P2_has_type`),
    referred_to_by: many(`${CRM}P67i_is_referred_to_by`), representation: many(`${CRM}P138i_has_representation`),
    digitally_shown_by: many(`${LA}digitally_shown_by`), access_point: many(`${LA}access_point`),
    member_of: many(`${LA}member_of`), dimension: many(`${CRM}P43_has_dimension`), made_of: many(`${CRM}P45_consists_of`),
    part: many(`${CRM}P46_is_composed_of`), current_owner: many(`${CRM}P52_has_current_owner`),
    produced_by: { '@id': `${CRM}P108i_was_produced_by`, '@type': '@id' }, timespan: { '@id': `${CRM}P4_has_time-span`, '@type': '@id' },
    unit: { '@id': `${CRM}P91_has_unit`, '@type': '@id' }, value: `${CRM}P90_has_value`, content: `${CRM}P190_has_symbolic_content`,
    format: 'http://purl.org/dc/elements/1.1/format',
    begin_of_the_begin: { '@id': `${CRM}P82a_begin_of_the_begin`, '@type': `${XSD}dateTime` },
    end_of_the_end: { '@id': `${CRM}P82b_end_of_the_end`, '@type': `${XSD}dateTime` },
  },
};
const TOP = ['@context', 'id', 'type', '_label', 'identified_by', 'classified_as', 'referred_to_by', 'representation', 'member_of', 'dimension', 'made_of', 'part', 'current_owner', 'produced_by'];
/** What each class may have, by the schemas; a class that is only referred to has an id and a label. */
const SHAPES = {
  HumanMadeObject: TOP, Set: ['id', 'type', '_label', 'identified_by'],
  Name: ['type', 'classified_as', 'content'], Identifier: ['type', 'classified_as', 'content'],
  Type: ['id', 'type', '_label', 'classified_as'], Material: ['id', 'type', '_label'], MeasurementUnit: ['id', 'type', '_label'], Group: ['id', 'type', '_label'],
  LinguisticObject: ['type', 'classified_as', 'content'], Dimension: ['type', 'classified_as', 'value', 'unit'],
  Production: ['type', 'timespan', 'referred_to_by'], TimeSpan: ['type', 'identified_by', 'begin_of_the_begin', 'end_of_the_end'],
  VisualItem: ['type', '_label', 'digitally_shown_by'], DigitalObject: ['id', 'type', '_label', 'format', 'access_point'],
};
const NEEDED = { Name: ['content'], Identifier: ['content'], LinguisticObject: ['content'], Dimension: ['value', 'unit'], Type: ['id'], Material: ['id'], Group: ['id'], Set: ['id'] };

/** What is wrong with the shape of a value and of all that lies in it. */
function shape(value, found) {
  if (Array.isArray(value)) return value.forEach(one => shape(one, found));
  if (value === null || typeof value !== 'object') return;
  const allowed = SHAPES[value.type];
  if (!allowed) found.push(`a type that is not expected: ${value.type}`);
  for (const key of Object.keys(value)) if (allowed && !allowed.includes(key)) found.push(`${value.type} has no ${key}`);
  for (const key of NEEDED[value.type] ?? []) if (value[key] === undefined || value[key] === '') found.push(`${value.type} without ${key}`);
  Object.entries(value).filter(([key]) => key !== '@context').forEach(([, inner]) => shape(inner, found));
}

/** The triples of a document, as the processor reads them; nothing in it may be lost. */
async function triples(document, found) {
  const loader = async url => {
    if (url !== 'https://linked.art/ns/v1/linked-art.json') throw new Error(`asks for ${url}`);
    return { contextUrl: null, document: ART, documentUrl: url };
  };
  const options = { documentLoader: loader, base: 'file:///archive/', safe: true };
  const canonical = await jsonld.canonize(document, { ...options, algorithm: 'RDFC-1.0', format: 'application/n-quads' });
  if (canonical.trim().split('\n').length < 8) found.push('it says next to nothing');
  return canonical;
}

const archive = path.join(process.argv[2], 'archive');
const whole = JSON.parse(fs.readFileSync(path.join(archive, 'linked.json'), 'utf8'));
const inWhole = new Map(whole['@graph'].map(node => [node.id, node]));
const wrong = [];
shape(whole['@graph'], wrong);
await triples(whole, wrong);
if (inWhole.size !== whole['@graph'].length) wrong.push('something stands twice in it');
let pieces = 0;
for (const folder of fs.readdirSync(path.join(archive, 'pieces')).sort()) {
  const file = path.join(archive, 'pieces', folder, 'linked.json');
  if (!fs.existsSync(file)) continue;
  const found = [];
  const piece = JSON.parse(fs.readFileSync(file, 'utf8'));
  pieces += 1;
  if (piece['@context'] !== whole['@context'] || piece.type !== 'HumanMadeObject') found.push('it is no object of Linked Art');
  shape(piece, found);
  const canonical = await triples(piece, found);
  if (!canonical.includes(JSON.stringify(piece._label))) found.push('its name is not in what was read');
  const same = inWhole.get(piece.id);
  if (same?._label !== piece._label) found.push('the whole does not have it');
  for (const picture of piece.representation ?? []) {
    for (const { id } of picture.digitally_shown_by.flatMap(shown => shown.access_point)) {
      if (!fs.existsSync(path.join(path.dirname(file), id))) found.push(`there is no picture ${id}`);
    }
  }
  faults.set(path.relative(path.dirname(archive), file), found);
}
if (pieces !== whole['@graph'].filter(node => node.type === 'HumanMadeObject').length) wrong.push('it has more or fewer pieces than there are');
for (const tree of ['showroom', 'buyers']) {
  const elsewhere = fs.readdirSync(path.join(process.argv[2], tree), { recursive: true }).filter(name => /linked\.json$|assets.archive/.test(name));
  if (elsewhere.length) wrong.push(`what is the archive's alone lies in ${tree}: ${elsewhere[0]}`);
}
faults.set('archive/linked.json', wrong);
finish(faults);
