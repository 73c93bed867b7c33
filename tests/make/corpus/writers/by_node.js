// Sheets by libraries of JavaScript. Run: node by_node.js SHEETS.json OUT, with the libraries in the folder NODE_PATH.
'use strict';
const fs = require('fs');
const path = require('path');

const [, , sheetsFile, out] = process.argv;
const { page: [wide, high], sheets } = JSON.parse(fs.readFileSync(sheetsFile, 'utf8'));
const version = (name) => require(path.join(process.env.NODE_PATH, name, 'package.json')).version;
const tool = (name) => `${name} ${version(name)}`;
const mm = { width: `${wide}mm`, height: `${high}mm`, viewBox: `0 0 ${wide} ${high}` };
const sewn = { hole: 'sew', told: ['taken as sew line'] };

function say(file, program, sheet, known = {}) {
  process.stdout.write(`ROW ${JSON.stringify({ file, program, sheet, ...known })}\n`);
}

/** makerjs: models of lines, arcs, circles and Béziers, in a unit, exported by itself. */
function makerjs() {
  const m = require('makerjs');
  const model = (sheet) => {
    const models = {};
    sheets[sheet].forEach((line, at) => {
      const paths = {}, inner = {};
      let here;
      line.steps.forEach(([kind, ...v], i) => {
        if (kind === 'L') paths[`l${i}`] = new m.paths.Line(here, v);
        if (kind === 'A') paths[`a${i}`] = new m.paths.Arc(v.slice(0, 2), v[2], Math.min(v[3], v[4]), Math.max(v[3], v[4]));
        if (kind === 'C') inner[`c${i}`] = new m.models.BezierCurve([here, v.slice(0, 2), v.slice(2, 4), v.slice(4)], 0.05);
        if (kind === 'E' && v[2] === v[3]) paths[`e${i}`] = new m.paths.Circle(v.slice(0, 2), v[2]);
        if (kind === 'E' && v[2] !== v[3]) {
          inner[`e${i}`] = m.model.move(m.model.rotate(new m.models.Ellipse(v[2], v[3], 0.02), v[4]), v.slice(0, 2));
        }
        here = line.ends[i];
      });
      models[`${line.of || 'frame'}_${at}`] = { paths, models: inner };
    });
    return { models };
  };
  const dxf = (sheet, units, scale, known) => {
    const file = `makerjs ${units} ${sheet}.dxf`;
    const found = m.model.scale(model(sheet), scale);
    fs.writeFileSync(path.join(out, file), m.exporter.toDXF(found, { units, usePOLYLINE: units === 'inch' }));
    say(file, tool('makerjs'), sheet, known);
  };
  dxf('plain', 'mm', 1, { near: 0.3 });
  dxf('curves', 'cm', 0.1, { near: 0.3, ...sewn });
  dxf('lines', 'inch', 1 / 25.4, {});
  const file = 'makerjs plain.svg';
  fs.writeFileSync(path.join(out, file), m.exporter.toSVG(model('plain'), { units: 'mm', viewBox: true }));
  say(file, tool('makerjs'), 'plain', { near: 0.3 });
}

/** A document for libraries that need one. */
function dom() {
  const { parseHTML } = require('linkedom');
  return parseHTML('<html><body></body></html>').document;
}

/** d3: a group turned over, with paths made by its path maker; y upwards. */
function d3(sheet, known) {
  const d = require('d3-path');
  const document = dom();
  const { select } = require('d3-selection');
  const svg = select(document.body).append('svg').attr('xmlns', 'http://www.w3.org/2000/svg');
  Object.entries(mm).forEach(([key, value]) => svg.attr(key, value));
  const group = svg.append('g').attr('transform', `translate(0,${high}) scale(1,-1)`);
  sheets[sheet].forEach((line) => {
    const p = d.path();
    line.steps.forEach(([kind, ...v]) => {
      const rad = (a) => (a * Math.PI) / 180;
      if (kind === 'M') p.moveTo(...v);
      if (kind === 'L') p.lineTo(...v);
      if (kind === 'C') p.bezierCurveTo(...v);
      if (kind === 'A') p.arc(v[0], v[1], v[2], rad(v[3]), rad(v[4]), v[4] < v[3]);
    });
    p.closePath();
    group.append('path').attr('d', p.toString()).attr('fill', 'none').attr('stroke', 'black').attr('id', line.of);
  });
  const file = `d3 ${sheet}.svg`;
  fs.writeFileSync(path.join(out, file), document.body.innerHTML.trim());
  say(file, tool('d3-path'), sheet, known);
}

/** paper.js: an item for each line, in points, exported with its matrix. */
function paper() {
  const paper = require('paper-jsdom');
  paper.setup(new paper.Size(wide, high));
  const make = (sheet, name) => {
    paper.project.clear();
    sheets[sheet].forEach((line) => {
      const item = new paper.Path({ strokeColor: 'black', name: line.of, closed: false });
      let here;
      line.steps.forEach(([kind, ...v], i) => {
        const at = (j) => new paper.Point(v[j], high - v[j + 1]);
        if (kind === 'M') item.moveTo(at(0));
        if (kind === 'L') item.lineTo(at(0));
        if (kind === 'C') item.cubicCurveTo(at(0), at(2), at(4));
        here = line.ends[i];
      });
      item.closePath();
      if (here) item.strokeWidth = 0.5;
    });
    const text = paper.project.exportSVG({ asString: true, precision: 4 });
    const file = `paper ${name}.svg`;
    fs.writeFileSync(path.join(out, file), text);
    return file;
  };
  say(make('turned_lines', 'turned lines'), tool('paper'), 'lines', { first: 'in pixels', asked: { units: 'mm' }, names: true });
  say(make('framed', 'framed'), tool('paper'), 'framed', { first: 'in pixels', asked: { units: 'mm' }, names: true });
}

/** jscad: outlines as geometries of its own, by its serializers. */
function jscad() {
  const { geometries } = require('@jscad/modeling');
  const shapes = (sheet) => sheets[sheet].map((line) => geometries.path2.fromPoints({ closed: true }, line.points));
  const dxf = require('@jscad/dxf-serializer');
  const svg = require('@jscad/svg-serializer');
  let file = 'jscad plain.dxf';
  fs.writeFileSync(path.join(out, file), dxf.serialize({ binary: false }, ...shapes('plain')).join(''));
  say(file, tool('@jscad/dxf-serializer'), 'plain', {});
  file = 'jscad turned.svg';
  fs.writeFileSync(path.join(out, file), svg.serialize({ unit: 'mm', decimals: 1000 }, ...shapes('turned')).join(''));
  say(file, tool('@jscad/svg-serializer'), 'turned', { told: ['nothing in it has a line or a filling'] });
}

/** dxf-writer: lines, arcs, circles and polylines on layers. */
function dxfWriter() {
  const Drawing = require('dxf-writer');
  const make = (sheet, units, known) => {
    const d = new Drawing();
    if (units) d.setUnits(units);
    sheets[sheet].forEach((line) => {
      const name = line.of || 'frame';
      if (!d.layers[name]) d.addLayer(name, Drawing.ACI.RED, 'CONTINUOUS');
      d.setActiveLayer(name);
      const [kind, ...v] = line.steps[0];
      if (kind === 'E' && v[2] === v[3]) d.drawCircle(v[0], v[1], v[2]);
      else d.drawPolyline(line.points, true);
    });
    const file = `dxf-writer ${sheet}.dxf`;
    fs.writeFileSync(path.join(out, file), d.toDxfString());
    say(file, tool('dxf-writer'), sheet, known);
  };
  make('curves', 'Millimeters', { names: true, ...sewn });
  make('framed', '', { names: true, first: 'give --units', asked: { units: 'mm' } });
}

/** @tarikjabiri/dxf: splines, ellipses and polylines with bulges, of the version of 2007. */
function dxfNew() {
  const { DxfWriter, point3d, Units } = require('@tarikjabiri/dxf');
  const make = (sheet, known) => {
    const d = new DxfWriter();
    d.setUnits(Units.Millimeters);
    sheets[sheet].forEach((line) => {
      let here;
      line.steps.forEach(([kind, ...v], i) => {
        const p = (x, y) => point3d(x, y, 0);
        if (kind === 'L') d.addLine(p(...here), p(...v));
        if (kind === 'A') d.addArc(p(v[0], v[1]), v[2], Math.min(v[3], v[4]), Math.max(v[3], v[4]));
        if (kind === 'C') {
          d.addSpline({ controlPoints: [p(...here), p(v[0], v[1]), p(v[2], v[3]), p(v[4], v[5])], degreeCurve: 3 });
        }
        if (kind === 'E' && v[2] === v[3]) d.addCircle(p(v[0], v[1]), v[2]);
        else if (kind === 'E') {
          const a = (v[4] * Math.PI) / 180;
          d.addEllipse(p(v[0], v[1]), p(v[2] * Math.cos(a), v[2] * Math.sin(a)), v[3] / v[2], 0, 2 * Math.PI);
        }
        here = line.ends[i];
      });
    });
    const file = `tarikjabiri-dxf ${sheet}.dxf`;
    fs.writeFileSync(path.join(out, file), d.stringify());
    say(file, tool('@tarikjabiri/dxf'), sheet, known);
  };
  make('plain', {});
  make('curves', sewn);
}

/** svgo in three versions: our own SVG made as short as it can be. */
function svgo() {
  const make = async (name, program, text, sheet, known) => {
    fs.writeFileSync(path.join(out, name), text);
    say(name, program, sheet, known);
  };
  const sources = JSON.parse(fs.readFileSync(sheetsFile, 'utf8')).sources;
  const v3 = require('svgo').optimize;
  const v2 = require('svgo2').optimize;
  const V1 = require('svgo1');
  const plugins = [{ name: 'preset-default' }, 'convertStyleToAttrs', 'reusePaths'];
  make('svgo plain.svg', tool('svgo'), v3(sources.plain, { multipass: true }).data, 'plain', {});
  make('svgo placed.svg', tool('svgo'), v3(sources.placed, { multipass: true, floatPrecision: 3 }).data, 'turned', {});
  make('svgo copies.svg', tool('svgo'), v3(sources.copies, { plugins }).data, 'lines', {});
  make('svgo2 curves.svg', `svgo ${version('svgo2')}`, v2(sources.curves, { multipass: true }).data, 'curves', { names: true, near: 0.6, ...sewn });
  make('svgo2 symbols.svg', `svgo ${version('svgo2')}`, v2(sources.symbols, {}).data, 'plain', {});
  return new V1({ floatPrecision: 2 }).optimize(sources.words).then((found) => {
    make('svgo1 words.svg', `svgo ${version('svgo1')}`, found.data, 'words', { cuts: { band: 2, bodice: 2 } });
  });
}

const all = [makerjs, () => d3('lines', { names: true }), paper, jscad, dxfWriter, dxfNew, svgo];
Promise.all(all.map((make) => Promise.resolve().then(make).catch((error) => {
  process.stderr.write(`${error.stack}\n`);
})));
