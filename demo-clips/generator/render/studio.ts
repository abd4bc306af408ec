import { BufferTarget, CanvasSource, Mp4OutputFormat, Output } from 'mediabunny';
import * as THREE from 'three';
import type { Camera } from '../camera.ts';
import { createScenario, poseSkeletons, type ClipOutline } from '../scenario.ts';
import { createRandom } from '../seeded-random.ts';
import { createEquipment } from './equipment.ts';
import { createFigure } from './figure.ts';
import { createFilm } from './film.ts';
import { createRoom } from './room.ts';

/** One clip set up for drawing. */
export interface Studio {
  readonly canvas: HTMLCanvasElement;
  readonly frameCount: number;
  draw(frameIndex: number): void;
  /** The whole clip as an MP4 file. */
  film(onProgress: (frameIndex: number) => void): Promise<ArrayBuffer>;
}

/** Enough for a nearly still room; keeps 45 s under 2 MB. */
const MAX_BYTES = 1_750_000;
const MAX_BITS_PER_SECOND = 620_000;

export function createStudio(outline: ClipOutline): Studio {
  const scenario = createScenario(outline);
  const { widthPx, heightPx, facingSide } = outline.camera;
  const renderer = new THREE.WebGLRenderer({ antialias: false, preserveDrawingBuffer: true });
  renderer.setSize(widthPx, heightPx, false);
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = THREE.PCFShadowMap;
  renderer.outputColorSpace = THREE.LinearSRGBColorSpace;
  const scene = new THREE.Scene();
  scene.background = new THREE.Color(outline.room.wall);
  const room = createRoom(outline.room, facingSide, createRandom(outline.seed).fork('room'));
  scene.add(room.group);
  const cast = scenario.people.map(({ body, performance }) => {
    const figure = createFigure(body);
    const equipment = createEquipment(performance.equipment, body.statureM);
    scene.add(figure.group, equipment.group);
    return { figure, equipment };
  });
  const mirrored = new THREE.Group();
  mirrored.matrixAutoUpdate = false;
  if (room.reflection !== null) mirrored.matrix.copy(room.reflection);
  scene.add(mirrored);
  const camera = toThreeCamera(scenario.camera);
  const film = createFilm(renderer, widthPx, heightPx, outline.room.noise);
  const draw = (frameIndex: number): void => {
    const skeletons = poseSkeletons(scenario, frameIndex / outline.fps);
    mirrored.clear();
    cast.forEach(({ figure, equipment }, index) => {
      const skeleton = skeletons[index] ?? null;
      figure.pose(skeleton);
      equipment.pose(skeleton);
      if (room.reflection !== null) mirrored.add(figure.group.clone(), equipment.group.clone());
    });
    film.expose(scene, camera, frameIndex);
  };
  return {
    canvas: renderer.domElement,
    frameCount: scenario.frameCount,
    draw,
    async film(onProgress) {
      const target = new BufferTarget();
      const output = new Output({ format: new Mp4OutputFormat({ fastStart: 'in-memory' }), target });
      const bitrate = Math.round(Math.min(MAX_BITS_PER_SECOND, (MAX_BYTES * 8) / scenario.durationS));
      const track = new CanvasSource(renderer.domElement, { codec: 'avc', bitrate, keyFrameInterval: 2 });
      output.addVideoTrack(track, { frameRate: outline.fps });
      await output.start();
      for (let frameIndex = 0; frameIndex < scenario.frameCount; frameIndex++) {
        draw(frameIndex);
        await track.add(frameIndex / outline.fps, 1 / outline.fps);
        onProgress(frameIndex);
      }
      await output.finalize();
      if (target.buffer === null) throw new Error('The encoder gave no file.');
      return target.buffer;
    },
  };
}

/** The same pinhole camera that the truth is projected with. */
function toThreeCamera(camera: Camera): THREE.PerspectiveCamera {
  const { position, right, up, forward, verticalFieldOfViewDeg, widthPx, heightPx } = camera;
  const eye = new THREE.PerspectiveCamera(verticalFieldOfViewDeg, widthPx / heightPx, 0.1, 30);
  const basis = new THREE.Matrix4().makeBasis(
    new THREE.Vector3(...right),
    new THREE.Vector3(...up),
    new THREE.Vector3(...forward).negate(),
  );
  eye.quaternion.setFromRotationMatrix(basis);
  eye.position.set(...position);
  eye.updateMatrixWorld();
  return eye;
}
