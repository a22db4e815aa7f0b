// Paints panels with the browser's own 3-D drawing (WebGL), which compares depths dot by dot: panels
// that lie within a caliper of each other hide each other rightly, however they are folded.

const VERTEX = `
attribute vec3 at;
uniform mat4 onto;
uniform vec4 box;
varying vec2 on;
void main() {
  on = (at.xy - box.xy) / box.zw;
  gl_Position = onto * vec4(at, 1.0);
}`;

const FRAGMENT = `
precision mediump float;
uniform vec3 outside, inside;
uniform vec2 dark;
uniform sampler2D art;
uniform float printed, lit;
varying vec2 on;
void main() {
  vec3 colour = gl_FrontFacing ? outside : inside;
  if (gl_FrontFacing && printed > 0.5) {
    vec4 ink = texture2D(art, vec2(on.x, 1.0 - on.y));
    colour = colour * (1.0 - ink.a) + ink.rgb;
  }
  colour = mix(colour, vec3(0.44, 0.72, 0.88), lit);
  colour = mix(colour, vec3(0.08, 0.03, 0.0), gl_FrontFacing ? dark.x : dark.y);
  gl_FragColor = vec4(colour, 1.0);
}`;

const CUT = 0.42; // mm, as wide as the lines of all pictures of folded boxes
const FOLD = 0.22;
const ROUND = 3; // calipers that a crease is wide, so that no corner gapes,
const WIDEST = 0.9; // mm at most: more would stand out beside the corner
const ABOVE = 0.06; // mm that a line stands over its panel
const BOTH = [ABOVE, -ABOVE];
const SHARP = 6; // dots of art for each mm, at most
const LARGEST = 2048;

/**
 * A colour as three numbers, 0 to 1.
 * @param {string} colour
 */
const rgb = (colour) => [1, 3, 5].map((i) => parseInt(colour.slice(i, i + 2), 16) / 255);

/**
 * The runs of points of a path of straight lines, y up.
 * @param {string} path
 */
function runs(path) {
  return path.split("M").filter(Boolean).map((run) => {
    const closed = run.endsWith("Z");
    const numbers = run.replace("Z", "").trim().split(/\s+/).map(Number);
    const points = [];
    for (let i = 0; i < numbers.length; i += 2) points.push([numbers[i], -numbers[i + 1]]);
    return closed ? [...points, points[0]] : points;
  });
}

/**
 * Lines as triangles of a width, at heights over their panel.
 * @param {string} path
 * @param {number} width
 * @param {number[]} heights
 * @param {number[]} corner
 */
function ribbons(path, width, heights, [left, top]) {
  const found = [];
  for (const run of runs(path))
    for (let i = 1; i < run.length; i++) {
      const [[x0, y0], [x1, y1]] = [run[i - 1], run[i]];
      const size = Math.hypot(x1 - x0, y1 - y0);
      if (!size) continue;
      const [dx, dy] = [((x1 - x0) / size) * (width / 2), ((y1 - y0) / size) * (width / 2)];
      const corners = [
        [x0 - dx + dy, y0 - dy - dx], [x1 + dx + dy, y1 + dy - dx],
        [x1 + dx - dy, y1 + dy + dx], [x0 - dx - dy, y0 - dy + dx],
      ].map(([x, y]) => [x + left, y - top]);
      for (const z of heights)
        for (const k of [0, 1, 2, 0, 2, 3]) found.push(...corners[k], z);
    }
  return found;
}

export class Paint {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this.canvas = canvas;
    const gl = canvas.getContext("webgl", { antialias: true, alpha: true, premultipliedAlpha: true });
    if (!gl) throw new Error("no 3-D drawing");
    this.gl = gl;
    this.program = this.link();
    gl.useProgram(this.program);
    /** @type {Record<string, WebGLUniformLocation | null>} */
    this.at = Object.fromEntries(
      ["onto", "box", "outside", "inside", "dark", "art", "printed", "lit"].map((name) => [name, gl.getUniformLocation(this.program, name)]),
    );
    this.buffer = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffer);
    const where = gl.getAttribLocation(this.program, "at");
    gl.enableVertexAttribArray(where);
    gl.vertexAttribPointer(where, 3, gl.FLOAT, false, 0, 0);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    /** @type {Map<string, {art: string, texture: WebGLTexture | null, ready: boolean}>} */
    this.arts = new Map();
    this.again = () => {};
  }

  link() {
    const { gl } = this;
    const program = /** @type {WebGLProgram} */ (gl.createProgram());
    for (const [kind, source] of /** @type {[number, string][]} */ ([[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]])) {
      const shader = /** @type {WebGLShader} */ (gl.createShader(kind));
      gl.shaderSource(shader, source);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    return program;
  }

  /** Take the panels of a box.
   * @param {any[]} panels */
  take(panels) {
    const { gl } = this;
    /** @type {number[]} */
    const all = [];
    const add = (/** @type {number[]} */ some) => {
      const first = all.length / 3;
      for (const each of some) all.push(each);
      return { first, count: some.length / 3 };
    };
    this.panels = panels.map((panel, index) => {
      const [left, top, width, height] = panel.box;
      const faces = [];
      const corner = [left, top];
      for (let i = 0; i < panel.triangles.length; i += 2)
        faces.push(panel.triangles[i] + left, -panel.triangles[i + 1] - top, 0);
      const folds = ribbons(panel.folds, FOLD, BOTH, corner);
      return {
        index,
        box: [left, -top - height, width, height],
        faces: add([...faces, ...ribbons(panel.folds, Math.min(ROUND * panel.caliper, WIDEST), [0], corner)]),
        folds: add(folds),
        lines: add([...ribbons(panel.cuts, CUT, BOTH, corner), ...ribbons(panel.tears, CUT, BOTH, corner)]),
        guides: add(ribbons(panel.guides, FOLD, [ABOVE], corner)),
        outside: rgb(panel.outside),
        inside: rgb(panel.inside),
        edge: rgb(panel.edge),
        soft: rgb(panel.outside).map((c, i) => 0.45 * c + 0.55 * rgb(panel.edge)[i]),
        softInside: rgb(panel.inside).map((c, i) => 0.45 * c + 0.55 * rgb(panel.edge)[i]),
        name: `${panel.net}\n${panel.piece}`,
        art: panel.art,
      };
    });
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(all), gl.STATIC_DRAW);
    const there = new Set(this.panels.filter((each) => each.art).map((each) => each.name));
    for (const [name, known] of this.arts)
      if (!there.has(name)) {
        gl.deleteTexture(known.texture);
        this.arts.delete(name);
      }
    for (const each of this.panels) if (each.art) this.ink(each);
  }

  /** Art as a texture; the one before is seen until the new one is there.
   * @param {any} panel */
  ink(panel) {
    const { gl } = this;
    const known = this.arts.get(panel.name);
    if (known?.art === panel.art) return;
    const [, , width, height] = panel.box;
    const own = { art: panel.art, texture: known?.texture ?? null, ready: known?.ready ?? false };
    this.arts.set(panel.name, own);
    const sharp = Math.min(SHARP, LARGEST / Math.max(width, height));
    const size = `width="${Math.ceil(width * sharp)}" height="${Math.ceil(height * sharp)}"`;
    const sized = panel.art.replace(/^<svg[^>]*>/, (/** @type {string} */ head) => {
      const bare = head.replace(/ (width|height|xmlns)="[^"]*"/g, "");
      return bare.replace("<svg", `<svg xmlns="http://www.w3.org/2000/svg" preserveAspectRatio="none" ${size}`);
    });
    const image = new Image();
    image.onload = () => {
      if (this.arts.get(panel.name) !== own) return;
      own.texture ??= gl.createTexture();
      gl.bindTexture(gl.TEXTURE_2D, own.texture);
      gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, true);
      gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, gl.RGBA, gl.UNSIGNED_BYTE, image);
      for (const side of [gl.TEXTURE_WRAP_S, gl.TEXTURE_WRAP_T]) gl.texParameteri(gl.TEXTURE_2D, side, gl.CLAMP_TO_EDGE);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.LINEAR);
      own.ready = true;
      this.again();
    };
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(sized)}`;
  }

  /**
   * @param {number[][]} ontos a matrix for each panel
   * @param {[number, number][]} darks how dark its outside and inside are
   * @param {boolean[]} lit
   */
  draw(ontos, darks, lit) {
    const { gl, at } = this;
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    for (const panel of this.panels ?? []) {
      gl.uniformMatrix4fv(at.onto, false, ontos[panel.index]);
      gl.uniform4fv(at.box, panel.box);
      gl.uniform2fv(at.dark, darks[panel.index]);
      const art = panel.art ? this.arts.get(panel.name) : undefined;
      gl.uniform1f(at.printed, art?.ready ? 1 : 0);
      if (art?.ready) gl.bindTexture(gl.TEXTURE_2D, art.texture);
      gl.uniform1f(at.lit, lit[panel.index] ? 0.7 : 0);
      gl.uniform3fv(at.outside, panel.outside);
      gl.uniform3fv(at.inside, panel.inside);
      gl.drawArrays(gl.TRIANGLES, panel.faces.first, panel.faces.count);
      gl.uniform1f(at.printed, 0);
      gl.uniform1f(at.lit, 0);
      gl.uniform3fv(at.outside, panel.soft);
      gl.uniform3fv(at.inside, panel.softInside);
      gl.drawArrays(gl.TRIANGLES, panel.folds.first, panel.folds.count);
      gl.uniform3fv(at.outside, panel.edge);
      gl.uniform3fv(at.inside, panel.edge);
      gl.drawArrays(gl.TRIANGLES, panel.lines.first, panel.lines.count);
      gl.drawArrays(gl.TRIANGLES, panel.guides.first, panel.guides.count);
    }
  }
}
