/**
 * 256 words to be read aloud, made for this tool: everyday things of four to eight letters, the first three letters of each its own,
 * and any two at least three letters apart, so that one is not taken for another over a poor line. A word's place is a byte.
 */
export const CHECK_WORDS: readonly string[] = [
  'acorn admiral album algebra alley almond amber anchor anthem apple apron aquarium arcade artist aspen athlete',
  'atlas autumn avenue aviator badger bakery balcony bamboo banjo barrel basket beacon beetle berry bicycle biscuit',
  'blossom bonfire border bracelet bridge bronze buffalo bundle butter buzzard cabin cactus camel canoe captain carpet',
  'castle cedar century champion chestnut chimney cinema circle citrus clarinet clover cobweb coconut coffee colony compass',
  'copper coral cotton cradle cricket crystal cucumber cupboard cushion cyclone daisy dancer deputy desert diamond dolphin',
  'donkey dragon driver drummer duck dynamo eagle earring echo eclipse elephant emerald encore engine envelope evening',
  'explorer fabric farmer feather fennel festival fiction fiddle firewood flamingo foghorn forest fossil fountain freckle galaxy',
  'garden gazelle geyser ginger giraffe glacier goblet gondola granite grocer guitar gymnast habitat handbag harbour hedgehog',
  'helmet hexagon hippo horizon hotel hundred iceberg igloo indigo insect island ivory jaguar jasmine jelly jewel',
  'journey jubilee juggler juniper kangaroo kayak kimono kingdom kitchen knapsack lagoon lantern laptop laundry legend lemon',
  'leopard lettuce library lilac limerick lizard llama lobster locket lullaby lyric macaroni magnet marble mascot meadow',
  'memory mermaid midnight mirror mitten mosaic muffin museum napkin necklace nephew noodle nugget nutmeg oatmeal ocean',
  'office olive onion orchard palace panda peanut pebble pelican pencil piano picnic pigeon pillow plumber pony',
  'postman potato prairie pumpkin puppet quarter quilt rabbit radio rainbow raven ribbon rubber sailor salad scarf',
  'school shepherd silver slipper smoke spider squirrel stable sunset swallow teapot temple tennis thunder tortoise tractor',
  'trumpet tulip turtle umbrella vanilla village violin volcano waffle walnut water whistle window yacht yogurt zebra',
].flatMap((row) => row.split(' '));
