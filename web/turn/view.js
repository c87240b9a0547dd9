// The turning view: the parts of a joint in 3-D, pulled apart and slid home.
// It is asked for only when somebody presses the button; the page is whole
// without it.
import {
  AmbientLight, Box3, DirectionalLight, MathUtils, OrthographicCamera,
  Scene, Sphere, Spherical, Vector3, WebGLRenderer,
} from "three";
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";

// How far an arrow key turns the view, and a press of + or − enlarges it.
const TURN = MathUtils.degToRad(7.5);
const GROW = 1.15;

// Ways to look, as azimuth from the model's front and height above level.
const VIEWS = {
  corner: [35, 28], front: [0, 0], end: [90, 0], above: [0, 89.9],
};

// show builds the view in box and gives its controls. model is the address of
// the joint's glTF file.
export async function show(box, model) {
  const canvas = box.querySelector("canvas");
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true });
  const gltf = await new GLTFLoader().loadAsync(model);
  const scene = new Scene();
  scene.add(gltf.scene);
  const light = new DirectionalLight(0xffffff, 2.2);
  scene.add(new AmbientLight(0xffffff, 1.3), light);
  const camera = new OrthographicCamera();
  const parts = [];
  gltf.scene.traverse((o) => {
    // Faces step back a little, so that they do not break the arrises on them.
    if (o.isMesh) Object.assign(o.material, { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
    if (o.userData.slide) parts.push({ node: o, way: new Vector3(...o.userData.slide) });
  });
  const movable = parts.some((p) => p.way.length() > 0);
  const place = (share) => parts.forEach((p) => p.node.position.copy(p.way).multiplyScalar(share));

  // Room for the parts pulled all the way out, so that nothing jumps.
  place(1);
  const bounds = new Box3().setFromObject(gltf.scene);
  place(0);
  bounds.union(new Box3().setFromObject(gltf.scene));
  const ball = bounds.getBoundingSphere(new Sphere());

  const eye = new Spherical(4 * ball.radius);
  let zoom = 1;
  function draw() {
    const { clientWidth: w, clientHeight: h } = canvas;
    if (!w || !h) return;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(w, h, false);
    const half = ball.radius * 0.95 / zoom, wide = w / h;
    const [x, y] = wide > 1 ? [half * wide, half] : [half, half / wide];
    Object.assign(camera, { left: -x, right: x, top: y, bottom: -y, near: 0, far: 8 * ball.radius });
    camera.position.setFromSpherical(eye).add(ball.center);
    camera.lookAt(ball.center);
    camera.updateProjectionMatrix();
    light.position.copy(camera.position).add(new Vector3(0, ball.radius, 0));
    light.target.position.copy(ball.center);
    light.target.updateMatrixWorld();
    renderer.render(scene, camera);
  }
  function turn(across, up) {
    eye.theta -= across;
    eye.phi = MathUtils.clamp(eye.phi - up, 0.001, Math.PI - 0.001);
    draw();
  }
  function grow(by) {
    zoom = MathUtils.clamp(zoom * by, 0.5, 8);
    draw();
  }
  function look(name) {
    const [azimuth, height] = VIEWS[name];
    eye.theta = MathUtils.degToRad(azimuth);
    eye.phi = MathUtils.degToRad(90 - height);
    zoom = 1;
    draw();
  }

  const keys = {
    ArrowLeft: () => turn(-TURN, 0), ArrowRight: () => turn(TURN, 0),
    ArrowUp: () => turn(0, TURN), ArrowDown: () => turn(0, -TURN),
    "+": () => grow(GROW), "=": () => grow(GROW), "-": () => grow(1 / GROW), "0": () => look("corner"),
  };
  canvas.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey || !keys[e.key]) return;
    e.preventDefault();
    keys[e.key]();
  });
  drag(canvas, turn, grow);

  new ResizeObserver(draw).observe(canvas);
  look("corner");
  return {
    movable, draw, look, grow, turn,
    slide(share) { place(share); draw(); },
    names: parts.map((p) => p.node.name.replaceAll("_", " ")),
  };
}

// drag turns with one finger or the mouse, and enlarges with two fingers. The
// wheel is left to the page.
function drag(canvas, turn, grow) {
  const down = new Map();
  const spread = () => {
    const [a, b] = [...down.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  canvas.addEventListener("pointerdown", (e) => {
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
  });
  canvas.addEventListener("pointermove", (e) => {
    const was = down.get(e.pointerId);
    if (!was) return;
    const before = down.size === 2 ? spread() : 0;
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
    if (down.size === 2) return grow(spread() / before);
    turn((e.clientX - was.x) * 0.01, (e.clientY - was.y) * 0.01);
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (e) => down.delete(e.pointerId));
}
