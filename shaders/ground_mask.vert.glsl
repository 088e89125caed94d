// The bodies pressed flat along the light onto the ground, for its shadow.
layout(location = 0) in vec3 position;

uniform vec3 shift;
uniform vec4 section;
uniform vec4 ground;       // unit normal toward the bodies, distance of the plane from the origin
uniform vec3 light;        // unit, toward the light
uniform vec3 across;       // axes of the ground's map and its span in mm
uniform vec3 upward;
uniform vec4 span;         // middle x, y, half sizes

out float height;

void main() {
  vec3 p = position + shift;
  height = dot(ground.xyz, p) - ground.w;
  p -= light * (height / dot(light, ground.xyz));
  gl_ClipDistance[0] = section.w - dot(section.xyz, position);
  gl_Position = vec4((dot(across, p) - span.x) / span.z, (dot(upward, p) - span.y) / span.w, 0.0, 1.0);
}
