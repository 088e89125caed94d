// Marks of the mismatch view, placed and sized beforehand.
layout(location = 0) in vec3 position;
layout(location = 1) in vec4 colour;

uniform mat4 to_clip;

out vec4 shade;

void main() {
  shade = colour;
  gl_Position = to_clip * vec4(position, 1.0);
}
