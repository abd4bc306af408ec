import * as THREE from 'three';

/** Draws a scene as a small camera would record it: vignette and a little sensor noise, the same for each seed. */
export interface Film {
  expose(scene: THREE.Scene, camera: THREE.Camera, frameIndex: number): void;
}

const SCREEN_VERTEX = `
varying vec2 place;
void main() { place = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }`;

const SCREEN_FRAGMENT = `
varying vec2 place;
uniform sampler2D picture;
uniform float noise;
uniform float seed;
float grain(vec2 p) {
  vec3 q = fract(vec3(p.xyx) * 0.1031 + seed);
  q += dot(q, q.yzx + 33.33);
  return fract((q.x + q.y) * q.z);
}
void main() {
  vec3 light = texture2D(picture, place).rgb;
  vec2 out_of_centre = place - 0.5;
  light *= 1.0 - 0.35 * dot(out_of_centre, out_of_centre);
  vec3 shown = mix(light * 12.92, 1.055 * pow(max(light, 0.0), vec3(1.0 / 2.4)) - 0.055, step(0.0031308, light));
  vec2 pixel = gl_FragCoord.xy;
  float luma = grain(pixel) + grain(pixel + 71.7) - 1.0;
  gl_FragColor = vec4(clamp(shown + noise * luma, 0.0, 1.0), 1.0);
}`;

export function createFilm(
  renderer: THREE.WebGLRenderer,
  widthPx: number,
  heightPx: number,
  noise: number,
): Film {
  const target = new THREE.WebGLRenderTarget(widthPx, heightPx, { type: THREE.HalfFloatType, samples: 4 });
  const uniforms = { picture: { value: target.texture }, noise: { value: noise }, seed: { value: 0 } };
  const screen = new THREE.Scene();
  const material = new THREE.ShaderMaterial({
    uniforms,
    vertexShader: SCREEN_VERTEX,
    fragmentShader: SCREEN_FRAGMENT,
    depthTest: false,
  });
  screen.add(new THREE.Mesh(new THREE.PlaneGeometry(2, 2), material));
  const flat = new THREE.OrthographicCamera(-1, 1, 1, -1, 0, 1);
  return {
    expose(scene, camera, frameIndex) {
      renderer.setRenderTarget(target);
      renderer.render(scene, camera);
      // Golden-ratio steps never repeat within a clip.
      uniforms.seed.value = (frameIndex * 0.618034) % 1;
      renderer.setRenderTarget(null);
      renderer.render(screen, flat);
    },
  };
}
